// Who opens which tap when, from the job where it says so and from published figures where it does not.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <stdexcept>

#include "forecast/scene_parts.hpp"
#include "hold/hold.hpp"
#include "units/quantity.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;

const draw::DrawKind& published_kind(const std::string& fixture) {
  const auto kinds = draw::published_kinds();
  const auto found = std::ranges::find(kinds, fixture, &draw::DrawKind::fixture);
  if (found == kinds.end()) throw std::logic_error("no published draws for fixture " + fixture);
  return *found;
}

const draw::UseProfile& usual_profile(const job::Job& job) {
  const std::string id = draw::published_profile_for(job.requirements.building_kind);
  const draw::UseProfile* profile = draw::published_profile(id);
  if (!profile) throw std::logic_error("no published use for building " + job.requirements.building_kind);
  return *profile;
}

template <std::size_t count>
void take(const std::vector<double>& given, std::array<double, count>& taken) {
  if (given.size() == count) std::ranges::copy(given, taken.begin());
}

void add_up_to_one(std::array<double, 24>& hours) {
  const double sum = std::accumulate(hours.begin(), hours.end(), 0.0);
  if (!(sum > 0)) throw std::logic_error("a day in which nothing is drawn at any hour");
  for (double& hour : hours) hour /= sum;
}

/// Figures the job does not ask for (how much draws differ among each other) are the published ones.
draw::DrawKind kind_of(const job::FixtureUse& use) {
  draw::DrawKind kind = published_kind(use.fixture);
  kind.per_day = use.per_day;
  kind.mean_duration_s = use.duration_s;
  kind.mean_flow_m3_per_s = use.flow_m3_per_s;
  kind.use_c = use.use_c.value_or(std::numeric_limits<double>::quiet_NaN());
  kind.source = "the job; spread: " + kind.source;
  kind.basis = "job";
  return kind;
}

draw::UseProfile profile_of(const job::Job& job, const job::UseProfile& use) {
  const draw::UseProfile* like = use.like.empty() ? nullptr : draw::published_profile(use.like);
  draw::UseProfile profile = like ? *like : usual_profile(job);
  profile.id = use.id;
  take(use.weekday_hours, profile.weekday_hours);
  take(use.weekend_hours, profile.weekend_hours);
  take(use.weekday_frac, profile.weekday_frac);
  add_up_to_one(profile.weekday_hours);
  add_up_to_one(profile.weekend_hours);
  // What the job says of its own stands alone; occupancy scales what a published profile has.
  if (!like) profile.draws_frac = 1;
  profile.draws_frac *= use.draws_frac;
  for (const job::FixtureUse& draws : job.fixture_uses)
    if (draws.profile == use.id) profile.kinds.push_back(kind_of(draws));
  profile.source = like ? "the job, like " + like->id + ": " + like->source : "the job";
  profile.basis = "job";
  return profile;
}

/// The outlet's own profile, else that of its space; empty: neither names one.
const std::string& named_use(const job::Job& job, const job::Outlet& outlet) {
  if (!outlet.profile.empty()) return outlet.profile;
  static const std::string none;
  const auto space = std::ranges::find(job.spaces, outlet.space, &job::Space::id);
  return space == job.spaces.end() ? none : space->use;
}

/// The profiles of the job, published ones that outlets or spaces name, then the usual one of the building.
std::vector<draw::UseProfile> profiles_of(const job::Job& job) {
  std::vector<draw::UseProfile> profiles;
  for (const job::UseProfile& use : job.profiles) profiles.push_back(profile_of(job, use));
  for (const job::Outlet& outlet : job.outlets) {
    const std::string& name = named_use(job, outlet);
    if (std::ranges::find(profiles, name, &draw::UseProfile::id) != profiles.end()) continue;
    if (const auto* published = draw::published_profile(name)) profiles.push_back(*published);
  }
  profiles.push_back(usual_profile(job));
  return profiles;
}

struct KindAt {
  const draw::DrawKind* kind;
  bool published;
};

KindAt kind_at(const draw::UseProfile& profile, const std::string& fixture) {
  const auto own = std::ranges::find(profile.kinds, fixture, &draw::DrawKind::fixture);
  if (own != profile.kinds.end()) return {&*own, false};
  return {&published_kind(fixture), true};
}

job::Assumption usual_use(const draw::UseProfile& profile, int outlets, const std::string& building) {
  return {"outlets.profile",
          fmt::format("\"{}\" ({} outlet{})", profile.id, outlets, outlets == 1 ? "" : "s"),
          fmt::format("no use of their own; the published profile for {}: {}", building, profile.source)};
}

job::Assumption usual_draws(const draw::DrawKind& kind, units::System system) {
  const std::string temperature = std::isnan(kind.use_c)
                                      ? ", all hot"
                                      : " at " + units::show(kind.use_c, units::Kind::temperature, system);
  return {"draws." + kind.fixture,
          fmt::format("{} a day, {}, {}{}", kind.per_day,
                      units::show(kind.mean_duration_s, units::Kind::duration, system),
                      units::show(kind.mean_flow_m3_per_s, units::Kind::volume_flow, system), temperature),
          kind.source};
}

/// make_scene gives these the least length.
void note_short_runouts(const job::Job& job, std::vector<job::Assumption>& assumptions) {
  const auto is_short = [](const job::Outlet& outlet) { return outlet.runout_length_m < least_runout_m; };
  const auto count = std::ranges::count_if(job.outlets, is_short);
  if (count == 0) return;
  assumptions.push_back(
      {"outlets.runout_length",
       fmt::format("{} ({} outlet{})", units::show(least_runout_m, units::Kind::length, job.units), count,
                   count == 1 ? "" : "s"),
       "a runout of no length is still the tap's own pipe"});
}

}  // namespace

Demand demand_of(const job::Job& job, const draw::Scene& scene) {
  Demand demand;
  demand.profiles = profiles_of(job);
  std::map<std::string, const draw::DrawKind*> taken;  // published, by fixture
  std::vector<bool> is_usual(job.outlets.size());
  for (std::size_t t = 0; t < scene.taps.size(); ++t) {
    const draw::Tap& tap = scene.taps[t];
    const job::Outlet& outlet = job.outlets.at(at(tap.outlet));
    const auto last = demand.profiles.end() - 1;
    const auto profile =
        std::ranges::find(demand.profiles.begin(), last, named_use(job, outlet), &draw::UseProfile::id);
    is_usual[at(tap.outlet)] = profile == last;
    const KindAt found = kind_at(*profile, outlet.fixture);
    if (found.published) taken[outlet.fixture] = found.kind;
    demand.taps.push_back({static_cast<int>(t), hold::run_key(tap.id), *found.kind, &*profile});
  }
  const auto usual = static_cast<int>(std::ranges::count(is_usual, true));
  if (usual > 0)
    demand.assumptions.push_back(usual_use(demand.profiles.back(), usual, job.requirements.building_kind));
  for (const auto& [fixture, kind] : taken) demand.assumptions.push_back(usual_draws(*kind, job.units));
  note_short_runouts(job, demand.assumptions);
  return demand;
}

}  // namespace firstdraw::forecast
