#include "serve/route.hpp"

#include <ranges>

namespace firstdraw::serve {
namespace {

std::vector<std::string_view> segments(std::string_view path) {
  std::vector<std::string_view> parts;
  for (const auto part : std::views::split(path, '/')) parts.emplace_back(part.begin(), part.end());
  return parts;
}

/// The values of the names in braces, when the path is of this form.
std::optional<std::map<std::string, std::string>> values_of(std::string_view form, std::string_view path) {
  const auto names = segments(form), given = segments(path);
  if (names.size() != given.size()) return std::nullopt;
  std::map<std::string, std::string> values;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (names[i].starts_with('{')) {
      if (given[i].empty()) return std::nullopt;
      values.emplace(names[i].substr(1, names[i].size() - 2), given[i]);
    } else if (names[i] != given[i]) {
      return std::nullopt;
    }
  }
  return values;
}

}  // namespace

const Routes& all_routes() {
  static const Routes routes = [] {
    Routes all;
    for (const auto add :
         {add_about_routes, add_job_routes, add_plan_routes, add_task_routes, add_schedule_routes,
          add_field_routes, add_record_routes, add_file_routes, add_access_routes})
      add(all);
    return all;
  }();
  return routes;
}

std::optional<Matched> match(Method method, std::string_view path) {
  std::optional<Matched> found;
  for (const Route& route : all_routes()) {
    auto values = values_of(route.path, path);
    if (!values) continue;
    if (route.method == method) return Matched{&route, *std::move(values)};
    found = Matched{};
  }
  return found;
}

}  // namespace firstdraw::serve
