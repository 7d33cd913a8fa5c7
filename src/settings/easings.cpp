#include "settings/easings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "settings/needs.hpp"
#include "units/quantity.hpp"

namespace firstdraw::settings {
namespace {

constexpr double higher_k = 3;  // highest set-point eased by
constexpr double endless = std::numeric_limits<double>::infinity();

std::string fixture_words(const job::ComfortTarget& target) {
  if (target.fixture == "*") return "every other fixture";
  std::string words = target.fixture;
  std::ranges::replace(words, '-', ' ');
  return words;
}

class Easings {
 public:
  explicit Easings(const SearchBase& base) : base_(base), asked_(asked_of(base.job)) {
    demands();
    comfort();
    clock();
    set_points();
  }
  std::vector<Easing> all;

 private:
  void add(std::string demand, std::string eased, std::function<void(Variant&)> change) {
    all.push_back({std::move(demand), std::move(eased), std::move(change)});
  }

  bool band_is_asked(const Asked& asked) const {
    Variant variant = as_asked(base_);
    variant.asked = asked;
    return std::ranges::any_of(needs_of(variant.job, base_.plan, base_.scene, base_.demand, variant.models,
                                        variant.asked, base_.options.step_s),
                               [](const GroupNeeds& needs) { return std::isfinite(needs.most_below_s); });
  }

  void demands() {
    if (asked_.guideline_temperature)
      add("Guideline's temperature at all times", "not asked",
          [](Variant& v) { v.asked.guideline_temperature = false; });
    if (asked_.hot_hold) add("Weekly hot hold", "not asked", [](Variant& v) { v.asked.hot_hold = false; });
    if (!band_is_asked(asked_)) return;
    if (asked_.band_h) {
      const double hours = *asked_.band_h + 1;
      add("Longest time in the growth band", fmt::format("{:g} h on end", hours),
          [hours](Variant& v) { v.asked.band_h = hours; });
    } else {
      add("Longest time in the growth band", "not asked", [](Variant& v) { v.asked.band_h = endless; });
    }
  }

  void comfort() {
    for (std::size_t i = 0; i < base_.job.week.comfort.size(); ++i)
      if (base_.job.week.comfort[i].hot_frac > 0)
        add("Comfort at " + fixture_words(base_.job.week.comfort[i]), "none asked",
            [i](Variant& v) { v.job.week.comfort[i].hot_frac = 0; });
  }

  void clock() {
    using Limits = job::ControllerLimits;
    const Limits& now = base_.job.controller;
    if (now.clock != Limits::Clock::set_points)
      add(now.clock == Limits::Clock::none ? "No clock" : "A clock that only switches off and on",
          "a clock that changes the set-point",
          [](Variant& v) { v.job.controller.clock = Limits::Clock::set_points; });
    if (now.clock == Limits::Clock::none) return;
    add(fmt::format("{} period{} a day", now.periods_a_day, now.periods_a_day == 1 ? "" : "s"),
        fmt::format("{} periods a day", now.periods_a_day + 1),
        [](Variant& v) { ++v.job.controller.periods_a_day; });
    if (now.programs == Limits::Programs::one)
      add("One program for all days", "working days and weekend",
          [](Variant& v) { v.job.controller.programs = Limits::Programs::workdays_weekend; });
    if (now.programs == Limits::Programs::workdays_weekend)
      add("Programs for working days and weekend", "each day its own",
          [](Variant& v) { v.job.controller.programs = Limits::Programs::each_day; });
    if (const double step_s = base_.options.step_s; now.clock_step_s > step_s * 1.001)
      add(fmt::format("Clock step of {:g} min", now.clock_step_s / 60), fmt::format("{:g} min", step_s / 60),
          [step_s](Variant& v) { v.job.controller.clock_step_s = step_s; });
    if (!now.off) add("No period may be off", "off allowed", [](Variant& v) { v.job.controller.off = true; });
  }

  void set_points() {
    using Limits = job::ControllerLimits;
    const Limits& now = base_.job.controller;
    const auto shown_k = [&](double k) {
      return units::show(k, units::Kind::temperature_difference, base_.job.units);
    };
    add("Highest set-point", shown_k(higher_k) + " more", [](Variant& v) {
      for (GroupModel& model : v.models) model.most_settable_c += higher_k;
    });
    if (now.clock != Limits::Clock::set_points) return;
    add(fmt::format("{} set-point{} a week", now.set_points, now.set_points == 1 ? "" : "s"),
        fmt::format("{} set-points a week", now.set_points + 1),
        [](Variant& v) { ++v.job.controller.set_points; });
    if (now.least_setback_k > 0)
      add("Least set-back of " + shown_k(now.least_setback_k), "none",
          [](Variant& v) { v.job.controller.least_setback_k = 0; });
  }

  const SearchBase& base_;
  Asked asked_;
};

}  // namespace

Variant as_asked(const SearchBase& base) { return {base.job, base.models, asked_of(base.job)}; }

std::vector<Easing> easings_of(const SearchBase& base) { return Easings(base).all; }

}  // namespace firstdraw::settings
