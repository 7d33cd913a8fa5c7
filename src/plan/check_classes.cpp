#include "plan/check_classes.hpp"

#include <fmt/format.h>

#include <map>

namespace firstdraw::plan {

std::string also_text(const std::vector<std::string>& ids) {
  constexpr std::size_t most = 6;
  if (ids.empty()) return {};
  std::string list;
  for (std::size_t i = 0; i < ids.size() && i < most; ++i) list += (i == 0 ? "" : ", ") + ids[i];
  return fmt::format(" (and {} more: {}{})", ids.size(), list, ids.size() > most ? " …" : "");
}

std::string ClassExcess::also() const {
  std::vector<std::string> ids;
  for (const auto* other : others) ids.push_back(other->run.id);
  return also_text(ids);
}

std::vector<ClassExcess> worst_of_classes(const Review& review,
                                          const std::function<double(const Review::Traced&)>& excess) {
  std::vector<ClassExcess> classes;
  std::vector<double> largest;
  std::map<std::string_view, std::size_t> known;
  for (const auto& traced : review.traced) {
    const double over = excess(traced);
    if (!(over > 0)) continue;
    const auto [place, fresh] = known.try_emplace(traced.planned.run_class, classes.size());
    if (fresh) {
      classes.push_back({&traced, {}});
      largest.push_back(over);
      continue;
    }
    ClassExcess& alike = classes[place->second];
    const bool worse = over > largest[place->second];
    alike.others.push_back(worse ? alike.worst : &traced);
    if (!worse) continue;
    alike.worst = &traced;
    largest[place->second] = over;
  }
  return classes;
}

}  // namespace firstdraw::plan
