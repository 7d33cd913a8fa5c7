// Indices of the plan as the ids that JSON carries.
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "plan/plan.hpp"

namespace firstdraw::plan {

/// Id of the item, null for none.
template <class Items>
nlohmann::json id_of(const Items& items, int i) {
  return i == piping::none ? nlohmann::json(nullptr) : nlohmann::json(items[piping::at(i)].id);
}

template <class Items>
nlohmann::json ids_of(const Items& items, const std::vector<int>& indices) {
  nlohmann::json list = nlohmann::json::array();
  for (const int i : indices) list.push_back(id_of(items, i));
  return list;
}

inline nlohmann::json node_of(const Plan& plan, int node) {
  return node == piping::none ? nlohmann::json(nullptr)
                              : nlohmann::json(plan.network.node_ids[piping::at(node)]);
}

inline nlohmann::json nodes_of(const Plan& plan, const std::vector<int>& nodes) {
  nlohmann::json list = nlohmann::json::array();
  for (const int node : nodes) list.push_back(node_of(plan, node));
  return list;
}

}  // namespace firstdraw::plan
