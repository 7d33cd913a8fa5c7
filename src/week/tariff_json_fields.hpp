// The fields of one record of the open utility-rate schema: each is judged as it is taken, and what is wrong
// is kept with its path. Part of tariff_json.cpp.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <initializer_list>
#include <limits>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "job/context.hpp"
#include "week/tariff.hpp"
#include "week/tariff_json_text.hpp"

namespace firstdraw::week {

class RecordFields {
 public:
  using Json = nlohmann::json;

  RecordFields(const Json& record, std::string_view file) : record_(record), file_(file) {}

  std::vector<job::Diagnostic> problems;

 protected:
  void problem(std::string field, std::string message, std::string hint = {}) {
    problems.push_back({std::string(file_), 0, 0, std::move(field), std::move(message), std::move(hint)});
  }
  void wrong_kind(const std::string& path, const char* expected, const Json& found) {
    problem(path, fmt::format("{} was expected, not {}", expected, kind_of(found)));
  }
  /// Null where the field is not there.
  const Json* field(const char* name) const {
    const auto found = record_.find(name);
    return found == record_.end() ? nullptr : &*found;
  }

  std::optional<std::string> word(const char* name) {
    const Json* found = field(name);
    if (found == nullptr) return std::nullopt;
    if (found->is_string()) return found->get<std::string>();
    wrong_kind(name, "text", *found);
    return std::nullopt;
  }
  /// A number that any double can hold; empty after a problem.
  std::optional<double> number(const std::string& path, const Json& json) {
    if (json.is_number() && std::isfinite(json.get<double>())) return json.get<double>();
    wrong_kind(path, "a number", json);
    return std::nullopt;
  }
  std::optional<double> not_negative(const std::string& path, const Json& json) {
    const auto value = number(path, json);
    if (!value || *value >= 0) return value;
    problem(path, "must be zero or more");
    return std::nullopt;
  }
  std::optional<double> amount(const char* name) {
    const Json* found = field(name);
    return found == nullptr ? std::nullopt : not_negative(name, *found);
  }

  /// Charges of this kind are there; a schedule without its prices is an error.
  bool given(const char* structure, std::initializer_list<const char*> schedules) {
    if (field(structure) != nullptr) return true;
    for (const char* schedule : schedules) {
      if (field(schedule) != nullptr) problem(structure, fmt::format("is missing; {} needs it", schedule));
    }
    return false;
  }

  // Structures: [period][tier]
  // -------------------------------------------------------------------------------

  /// Whether the list is there and has something in it.
  bool full_list(const std::string& path, const Json& json, const char* of_what) {
    if (!json.is_array()) return wrong_kind(path, fmt::format("a list of {}", of_what).c_str(), json), false;
    if (json.empty()) problem(path, fmt::format("the list of {} is empty", of_what));
    return !json.empty();
  }

  std::vector<Period> structure(const char* name, bool may_be_negative, bool* daily) {
    std::vector<Period> periods;
    const Json& json = *field(name);
    if (!full_list(name, json, "periods")) return periods;
    for (std::size_t i = 0; i < json.size(); ++i) {
      const std::string path = fmt::format("{}[{}]", name, i);
      Period& period = periods.emplace_back();
      period.name = fmt::format("period {}", i);
      if (!full_list(path, json[i], "tiers")) continue;
      for (std::size_t k = 0; k < json[i].size(); ++k) {
        const bool last = k + 1 == json[i].size();
        const double before = k == 0 ? 0 : period.tiers.back().up_to;
        period.tiers.push_back(
            tier(fmt::format("{}[{}]", path, k), json[i][k], {last, before, may_be_negative, daily}));
      }
    }
    return periods;
  }

  struct TierPlace {
    bool last;
    double before;
    bool may_be_negative;
    bool* daily;  // where tiers may be "kWh daily"; null for demand
  };
  Tier tier(const std::string& path, const Json& json, const TierPlace& place) {
    Tier tier;
    if (!json.is_object()) return wrong_kind(path, "an object with a rate", json), tier;
    judge_tier_names(path, json);
    if (!json.contains("rate")) {
      problem(path, "has no rate", "a price is rate and adj together; write \"rate\": 0 for none");
    } else {
      const auto rate = number(path + ".rate", json["rate"]);
      const auto adj = json.contains("adj") ? number(path + ".adj", json["adj"]) : 0.0;
      if (rate && adj) tier.price = *rate + *adj;
      if (tier.price < 0 && !place.may_be_negative)
        problem(path, "rate and adj together must be zero or more");
    }
    tier.up_to = tier_end(path, json, place);
    judge_tier_unit(path, json, place);
    return tier;
  }
  void judge_tier_names(const std::string& path, const Json& json) {
    const std::vector<std::string> known{"rate", "adj", "max", "unit", "sell"};
    for (const auto& [name, value] : json.items()) {
      if (name == "sell") sells_ = true;
      if (std::ranges::find(known, name) != known.end()) continue;
      problem(fmt::format("{}.{}", path, name),
              fmt::format("is not known here; expected {}", job::one_of(known)),
              job::did_you_mean(name, known));
    }
  }
  double tier_end(const std::string& path, const Json& json, const TierPlace& place) {
    constexpr double no_end = std::numeric_limits<double>::infinity();
    if (!json.contains("max")) {
      if (!place.last) problem(path, "has no max, but tiers follow it", "only the last tier has no end");
      return no_end;
    }
    const auto end = number(path + ".max", json["max"]);
    if (!end) return no_end;
    if (place.last) {
      problem(path + ".max", "the last tier has no end", "leave max out, or add the tier above it");
      return no_end;
    }
    if (!(*end > place.before))
      problem(path + ".max", fmt::format("must be more than the {:g} of the tier before", place.before));
    return *end;
  }
  void judge_tier_unit(const std::string& path, const Json& json, const TierPlace& place) {
    const Json unit = json.contains("unit") ? json["unit"] : Json(place.daily == nullptr ? "kW" : "kWh");
    if (!unit.is_string()) return wrong_kind(path + ".unit", "text", unit);
    const auto text = unit.get<std::string>();
    const std::vector<std::string> known = place.daily == nullptr
                                               ? std::vector<std::string>{"kW"}
                                               : std::vector<std::string>{"kWh", "kWh daily"};
    if (std::ranges::find(known, text) == known.end())
      return problem(path + ".unit",
                     fmt::format("tiers in \"{}\" are not billed by this program; expected {}", text,
                                 job::one_of(known)));
    if (place.daily == nullptr) return;
    const bool daily = text == "kWh daily";
    if (tier_unit_known_ && daily != *place.daily)
      problem(path + ".unit", "all tiers must have the same unit");
    tier_unit_known_ = true;
    *place.daily = daily;
  }

  // Schedules
  // ------------------------------------------------------------------------------------------------

  std::optional<int> index(const std::string& path, const Json& json, std::size_t periods) {
    if (!json.is_number_integer()) {
      wrong_kind(path, "the whole number of a period", json);
      return std::nullopt;
    }
    const bool inside =
        json.is_number_unsigned()
            ? json.get<std::uint64_t>() < periods
            : json.get<std::int64_t>() >= 0 && static_cast<std::size_t>(json.get<std::int64_t>()) < periods;
    if (inside) return json.get<int>();
    problem(path, fmt::format("there is no period {}; there are {}, counted from 0", json.dump(), periods));
    return std::nullopt;
  }
  bool list_of(const std::string& path, const Json& json, std::size_t size, const char* what) {
    if (json.is_array() && json.size() == size) return true;
    const std::string found = json.is_array() ? fmt::format("a list of {}", json.size()) : kind_of(json);
    problem(path, fmt::format("a list of {} {} was expected, not {}", size, what, found));
    return false;
  }
  Grid grid(const char* name, const char* needed_by, std::size_t periods) {
    Grid grid{};
    const Json* json = field(name);
    if (json == nullptr) {
      problem(name, fmt::format("is missing; {} needs it", needed_by));
      return grid;
    }
    if (!list_of(name, *json, months_a_year, "months")) return grid;
    for (std::size_t month = 0; month < grid.size(); ++month) {
      const Json& hours = (*json)[month];
      if (!list_of(fmt::format("{}[{}]", name, month), hours, hours_a_day, "hours")) continue;
      for (std::size_t hour = 0; hour < hours.size(); ++hour) {
        const auto at = index(fmt::format("{}[{}][{}]", name, month, hour), hours[hour], periods);
        grid.at(month).at(hour) = at.value_or(0);
      }
    }
    return grid;
  }

  const Json& record() const { return record_; }
  bool sells() const { return sells_; }

 private:
  const Json& record_;
  std::string_view file_;
  bool sells_ = false, tier_unit_known_ = false;
};

}  // namespace firstdraw::week
