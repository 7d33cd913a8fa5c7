// Finding a pipe by what people write, and saying what is known when there is none.
#include <algorithm>
#include <cmath>

#include "physics/names.hpp"
#include "physics/pipe.hpp"
#include "physics/pipe_tables.hpp"
#include "units/quantity.hpp"

namespace firstdraw::physics {
namespace {

using Result = std::expected<Pipe, std::string>;
using FamilyIndex = std::size_t;

std::string in_quotes(std::string_view text) { return "\"" + std::string(text) + "\""; }

std::string listed(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    out += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  }
  return out;
}

std::expected<std::string_view, std::string> find_material(std::string_view text) {
  const PipeTables& tables = pipe_tables();
  if (const auto found = tables.material_names.find(folded(text)); found != tables.material_names.end()) {
    return found->second;
  }
  std::string message = text.empty() ? "no pipe material given" : "unknown pipe material " + in_quotes(text);
  if (const auto near = units::nearest(text, tables.material_words)) {
    return std::unexpected(message + "; did you mean " + in_quotes(*near) + "?");
  }
  return std::unexpected(message + "; known are " + listed(tables.materials));
}

/// "type L", "sch 40", "Schedule 40", "40S", "EN1057" as the tables' type, folded.
std::string folded_type(std::string_view text) {
  std::string type = folded(text);
  for (const char* prefix : {"type", "schedule", "sch.", "sch"}) {
    if (type.starts_with(prefix)) {
      type.erase(0, std::string_view(prefix).size());
      break;
    }
  }
  return type;
}

bool is_type(const PipeFamily& family, std::string_view type) {
  const std::string own = folded(family.type);
  // Stainless schedules are written with or without their S.
  return own == type || (own.ends_with('s') && own.substr(0, own.size() - 1) == type);
}

std::vector<std::string> types_of(std::string_view material) {
  std::vector<std::string> out;
  for (const auto& family : pipe_tables().families) {
    if (family.material == material) out.push_back(family.type);
  }
  return out;
}

std::string of_family(const PipeFamily& family) {
  const bool schedule = family.type.find_first_not_of("0123456789S") == std::string::npos;
  const std::string kind = schedule ? " schedule " : family.type.size() == 1 ? " type " : " ";
  return family.material + kind + family.type;
}

std::string with_unit(const PipeFamily& family, const std::string& size) {
  return size + (family.metric ? (size.contains('x') ? "" : " mm") : " in");
}

/// The family's size nearest to the one asked for, converting between inches and mm of outer diameter.
std::string no_such_size(const PipeFamily& family, const PipeSize& size, std::string_view text) {
  const PipeTables& tables = pipe_tables();
  const auto distance = [&](const Pipe& pipe) {
    const std::size_t i = static_cast<std::size_t>(&pipe - tables.pipes.data());
    const double wall = size.wall_mm ? std::abs(1e3 * pipe.wall_m - *size.wall_mm) : 0;
    if (size.metric == family.metric) return std::abs(tables.nominal[i] - size.value) + 1e-3 * wall;
    return std::abs(1e3 * pipe.outer_diameter_m - (size.metric ? size.value : 25.4 * size.value)) +
           1e-3 * wall;
  };
  const std::span<const Pipe> pipes(tables.pipes);
  const auto range = pipes.subspan(family.first, family.last - family.first);
  const auto& near = *std::ranges::min_element(range, {}, distance);
  std::string message = of_family(family) + " has no size " + in_quotes(text) + "; the nearest is " +
                        with_unit(family, near.size);
  const bool bare_number = text.find_first_not_of("0123456789.") == std::string_view::npos;
  if (bare_number && size.value > 9) message += " (without a unit inches are meant)";
  return message;
}

const Pipe* pipe_of(FamilyIndex family, const PipeSize& size) {
  const PipeTables& tables = pipe_tables();
  if (size.metric != tables.families[family].metric || size.value > 1e5 || size.wall_mm.value_or(0) > 1e3)
    return nullptr;
  const auto found = tables.by_size.find(PipeTables::size_key(family, size.value, size.wall_mm.value_or(0)));
  return found == tables.by_size.end() ? nullptr : &tables.pipes[found->second];
}

Result unknown_type(std::string_view material, std::string_view type) {
  const auto types = types_of(material);
  std::string message = "unknown type " + in_quotes(type) + " of " + std::string(material) + " pipe";
  if (const auto near = units::nearest(type, types)) {
    return std::unexpected(message + "; did you mean " + in_quotes(*near) + "?");
  }
  return std::unexpected(message + "; known are " + listed(types));
}

Result in_type(std::string_view material, std::string_view type, const PipeSize& size,
               std::string_view text) {
  const auto& families = pipe_tables().families;
  const std::string wanted = folded_type(type);
  for (FamilyIndex f = 0; f < families.size(); ++f) {
    if (families[f].material != material || !is_type(families[f], wanted)) continue;
    if (const Pipe* pipe = pipe_of(f, size)) return *pipe;
    return std::unexpected(no_such_size(families[f], size, text));
  }
  return unknown_type(material, type);
}

/// Without a type: the only family of the material that is sized this way.
Result in_any_type(std::string_view material, const PipeSize& size, std::string_view text) {
  const auto& families = pipe_tables().families;
  std::vector<FamilyIndex> fitting;
  const PipeFamily* other = nullptr;
  for (FamilyIndex f = 0; f < families.size(); ++f) {
    if (families[f].material != material) continue;
    if (families[f].metric == size.metric) {
      fitting.push_back(f);
    } else {
      other = &families[f];
    }
  }
  if (fitting.empty() && other != nullptr) return std::unexpected(no_such_size(*other, size, text));
  if (fitting.size() == 1) {
    if (const Pipe* pipe = pipe_of(fitting.front(), size)) return *pipe;
    return std::unexpected(no_such_size(families[fitting.front()], size, text));
  }
  std::vector<std::string> types;
  for (const FamilyIndex f : fitting) types.push_back(families[f].type);
  return std::unexpected(std::string(material) + " " + in_quotes(text) + " is made in types " +
                         listed(types) + "; say which");
}

/// Splits at the first blank after `words` words.
std::pair<std::string_view, std::string_view> split_words(std::string_view text, int words) {
  std::size_t at = 0;
  for (int i = 0; i < words; ++i) {
    at = text.find_first_not_of(' ', at);
    at = at == std::string_view::npos ? at : text.find(' ', at);
    if (at == std::string_view::npos) return {text, {}};
  }
  return {text.substr(0, at), text.substr(std::min(text.size(), text.find_first_not_of(' ', at)))};
}

bool is_type_of(std::string_view material, std::string_view text) {
  if (text.empty()) return false;
  const std::string wanted = folded_type(text);
  return std::ranges::any_of(pipe_tables().families, [&](const PipeFamily& family) {
    return family.material == material && is_type(family, wanted);
  });
}

Result find_in_material(std::string_view material, std::string_view rest) {
  for (const int words : {2, 1, 3}) {
    const auto [type, size] = split_words(rest, words);
    if (!size.empty() && is_type_of(material, type)) return find_pipe(material, type, size);
  }
  if (read_pipe_size(rest)) return find_pipe(material, "", rest);
  const auto [type, size] = split_words(rest, 1);
  return find_pipe(material, size.empty() ? std::string_view() : type, size.empty() ? rest : size);
}

}  // namespace

std::expected<Pipe, std::string> find_pipe(std::string_view material, std::string_view type,
                                           std::string_view size) {
  const auto known = find_material(material);
  if (!known) return std::unexpected(known.error());
  const auto wanted = read_pipe_size(size);
  if (!wanted) {
    const std::string message =
        size.empty() ? "no pipe size given" : "unreadable pipe size " + in_quotes(size);
    return std::unexpected(message + R"(; write it as "1-1/4 in", "22 mm" or "22x1")");
  }
  if (type.find_first_not_of(' ') == std::string_view::npos) return in_any_type(*known, *wanted, size);
  return in_type(*known, type, *wanted, size);
}

std::expected<Pipe, std::string> find_pipe(std::string_view text) {
  const auto start = text.find_first_not_of(' ');
  if (start == std::string_view::npos) {
    return std::unexpected(R"(no pipe given; write it as "copper L 1 in" or "copper 22x1")");
  }
  text.remove_prefix(start);
  const auto& names = pipe_tables().material_names;
  for (const int words : {3, 2, 1}) {
    const auto [material, rest] = split_words(text, words);
    if (rest.empty()) continue;
    if (const auto found = names.find(folded(material)); found != names.end()) {
      return find_in_material(found->second, rest);
    }
  }
  const auto [material, rest] = split_words(text, 1);
  const auto known = find_material(material);
  if (!known) return std::unexpected(known.error());
  return find_in_material(*known, rest);
}

}  // namespace firstdraw::physics
