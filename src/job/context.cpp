#include "job/context.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace firstdraw::job {

namespace {
// The nearest name is looked for among all names; a folder full of slips must stay quick to read.
constexpr int hints_per_target = 100;
}  // namespace

std::string_view to_string(Target target) {
  constexpr std::array<std::string_view, target_count> names{
      "level", "space", "panel", "control group", "cable", "run", "outlet", "node", "use profile", "circuit"};
  return names[static_cast<std::size_t>(target)];
}

void Context::problem(Where where, std::string field, std::string message, std::string hint) {
  problems.push_back({std::string(where.file), where.line, where.column, std::move(field), std::move(message),
                      std::move(hint)});
}

void Context::assume(std::string field, std::string value, std::string why) {
  assumptions.push_back({std::move(field), std::move(value), std::move(why)});
}

void Context::join_alike(std::string_view list, std::size_t sections, std::size_t first) {
  struct Alike {
    std::string key;
    Assumption assumption;
    std::vector<std::string> ids;
  };
  std::vector<Alike> kinds;
  for (auto made = assumptions.begin() + static_cast<std::ptrdiff_t>(first); made != assumptions.end();
       ++made) {
    const std::size_t begin = list.size() + 1, dot = made->field.rfind('.');
    const std::string key = made->field.substr(dot + 1);
    auto kind = std::ranges::find_if(kinds, [&](const Alike& a) {
      return a.key == key && a.assumption.value == made->value && a.assumption.why == made->why;
    });
    if (kind == kinds.end()) kind = kinds.insert(kind, {key, *made, {}});
    kind->ids.push_back(dot > begin ? made->field.substr(begin, dot - begin) : std::string());
  }
  assumptions.resize(first);
  for (auto& [key, assumption, ids] : kinds) {
    if (ids.size() > 1) {
      const std::string who = ids.size() == sections ? fmt::format("all {} {}s", sections, list)
                                                     : fmt::format("{}", fmt::join(ids, ", "));
      assumption.field = fmt::format("{}s.{}", list, key);
      assumption.value += fmt::format(" ({})", who);
    }
    assumptions.push_back(std::move(assumption));
  }
}

void Context::add_id(Target target, const std::string& id, Where where, const std::string& field) {
  const auto [known, added] = line_of_[index(target)].try_emplace(id, where.line);
  if (added) {
    names_[index(target)].push_back(id);
    return;
  }
  const std::string first = known->second > 0 ? fmt::format(", first used on line {}", known->second) : "";
  problem(where, field, fmt::format("the {} \"{}\" is there twice{}", to_string(target), id, first),
          "give every one an id of its own");
}

void Context::add_node(const std::string& id) {
  if (line_of_[index(Target::node)].try_emplace(id, 0).second) names_[index(Target::node)].push_back(id);
}

bool Context::knows(Target target, const std::string& id) const {
  return trusted_[index(target)] || line_of_[index(target)].contains(id);
}

void Context::unknown(Target target, const std::string& id, Where where, std::string field) {
  problem(where, std::move(field), fmt::format("there is no {} \"{}\"", to_string(target), id),
          nearest_hint(target, id));
}

std::string Context::nearest_hint(Target target, const std::string& id) {
  const auto& names = names_[index(target)];
  if (misses_[index(target)]++ >= hints_per_target) return {};
  if (auto hint = did_you_mean(id, names); !hint.empty()) return hint;
  if (names.empty())
    return fmt::format("none is described yet: add a {} or leave this out", to_string(target));
  return names.size() <= 12 ? fmt::format("known: {}", one_of(names)) : std::string();
}

void Context::refer_later(Target target, const std::string& id, Where where, std::string field) {
  later_.push_back({target, id, std::string(where.file), where.line, where.column, std::move(field)});
}

void Context::settle_references() {
  for (auto& later : later_) {
    if (knows(later.target, later.id)) continue;
    unknown(later.target, later.id, {later.file, later.line, later.column}, std::move(later.field));
  }
  later_.clear();
}

std::string did_you_mean(std::string_view word, const std::vector<std::string>& known) {
  const auto near = units::nearest(word, known);
  return near ? fmt::format("did you mean \"{}\"?", *near) : std::string();
}

std::string one_of(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " or " : ", ";
    text += names[i];
  }
  return text;
}

}  // namespace firstdraw::job
