#include "settings/comfort_count.hpp"

#include <algorithm>
#include <limits>

namespace firstdraw::settings {
namespace {

using draw::at;

double share_of(std::uint64_t part, std::uint64_t whole) {
  return whole > 0 ? static_cast<double>(part) / static_cast<double>(whole)
                   : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

bool speaks_of(const job::ComfortTarget& target, std::span<const job::ComfortTarget> all,
               const std::string& fixture) {
  if (target.fixture != "*") return target.fixture == fixture;
  return std::ranges::none_of(all, [&](const job::ComfortTarget& other) { return other.fixture == fixture; });
}

ComfortCount::ComfortCount(const job::Job& job, const draw::Scene& scene) : of_tap_(scene.taps.size()) {
  for (const job::ComfortTarget& asked : job.week.comfort) {
    for (std::size_t t = 0; t < scene.taps.size(); ++t)
      if (speaks_of(asked, job.week.comfort, job.outlets.at(at(scene.taps[t].outlet)).fixture))
        of_tap_[t].push_back(targets_.size());
    targets_.push_back({asked, {}});
  }
}

void ComfortCount::add(const draw::Result& member) {
  std::vector<Count> counts(targets_.size());
  for (const draw::DrawRecord& draw : member.draws)
    for (const std::size_t t : of_tap_[at(draw.tap)]) {
      const double within_s = targets_[t].asked.within_s;
      const bool long_enough = draw.duration_s >= within_s;
      ++counts[t].draws;
      counts[t].long_enough += long_enough;
      counts[t].hot += long_enough && draw.hot_after_s <= within_s;
    }
  for (std::size_t t = 0; t < counts.size(); ++t) {
    Target& target = targets_[t];
    target.all.draws += counts[t].draws;
    target.all.long_enough += counts[t].long_enough;
    target.all.hot += counts[t].hot;
    if (counts[t].long_enough == 0) continue;
    ++target.members;
    target.reached += share_of(counts[t].hot, counts[t].long_enough) >= target.asked.hot_frac;
  }
}

std::vector<ComfortAnswer> ComfortCount::answers(double days) const {
  std::vector<ComfortAnswer> answers;
  for (const Target& target : targets_) {
    ComfortAnswer answer;
    answer.fixture = target.asked.fixture;
    answer.asked_frac = target.asked.hot_frac;
    answer.within_s = target.asked.within_s;
    answer.reached_frac = share_of(target.all.hot, target.all.long_enough);
    answer.members_frac =
        share_of(static_cast<std::uint64_t>(target.reached), static_cast<std::uint64_t>(target.members));
    answer.draws_per_day = days > 0 ? static_cast<double>(target.all.draws) / days : 0;
    answers.push_back(std::move(answer));
  }
  return answers;
}

}  // namespace firstdraw::settings
