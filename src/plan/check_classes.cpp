#include "plan/check_classes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace firstdraw::plan {

std::string ClassExcess::also() const {
  constexpr std::size_t most = 6;
  if (others.empty()) return {};
  std::string list;
  for (std::size_t i = 0; i < others.size() && i < most; ++i)
    list += (i == 0 ? "" : ", ") + others[i]->run.id;
  return fmt::format(" (and {} more: {}{})", others.size(), list, others.size() > most ? " …" : "");
}

std::vector<ClassExcess> worst_of_alike(const Review& review, const Likeness& likeness,
                                        const Excess& excess) {
  std::vector<ClassExcess> all;
  std::vector<double> largest;
  std::map<std::string_view, std::size_t> known;
  for (const auto& traced : review.traced) {
    const double over = excess(traced);
    if (!(over > 0)) continue;
    const auto [place, fresh] = known.try_emplace(likeness(traced), all.size());
    if (fresh) {
      all.push_back({&traced, {}});
      largest.push_back(over);
      continue;
    }
    ClassExcess& alike = all[place->second];
    const bool worse = over > largest[place->second];
    alike.others.push_back(worse ? alike.worst : &traced);
    if (!worse) continue;
    alike.worst = &traced;
    largest[place->second] = over;
  }
  for (ClassExcess& alike : all)
    std::ranges::sort(alike.others);  // they stand in one vector, in the job's order
  return all;
}

std::vector<ClassExcess> worst_of_classes(const Review& review, const Excess& excess) {
  return worst_of_alike(
      review, [](const auto& traced) { return std::string_view(traced.planned.run_class); }, excess);
}

std::vector<ClassExcess> worst_of_groups(const Review& review, const Excess& excess) {
  return worst_of_alike(review, [](const auto& traced) { return std::string_view(traced.group.id); }, excess);
}

}  // namespace firstdraw::plan
