// What of a week's JSON does not depend on seasons: what demands cost, better places and thicknesses, alarms,
// readings.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "settings/settings.hpp"

namespace firstdraw::settings {

void add_parts(nlohmann::json& json, const WeekAnswer& week);

template <class Items, class Make>
nlohmann::json list_of(const Items& items, Make make) {
  nlohmann::json list = nlohmann::json::array();
  for (const auto& item : items) list.push_back(make(item));
  return list;
}

/// null: cannot be told.
inline nlohmann::json kept_json(const std::optional<bool>& kept) {
  return kept ? nlohmann::json(*kept) : nlohmann::json(nullptr);
}

}  // namespace firstdraw::settings
