// Published values copied beside the tests, tests/reference/data/*.csv, each row with its source and basis.
#pragma once

#include <fmt/format.h>

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>

#include "places.hpp"
#include "tables/csv.hpp"
#include "tables/table.hpp"

namespace firstdraw::reference {

inline tables::Table read_published(const std::string& name) {
  const std::string path = fmt::format("{}/tests/reference/data/{}.csv", places::sources(), name);
  std::ifstream file(path, std::ios::binary);
  if (!file) throw std::runtime_error(fmt::format("cannot read {}", path));
  std::ostringstream text;
  text << file.rdbuf();
  auto csv = tables::read_csv(text.str());
  if (!csv) throw std::runtime_error(fmt::format("{}: {}", path, csv.error().message));
  return tables::Table(*std::move(csv));
}

/// Read once and kept, since rows point into their table.
inline const tables::Table& published(const std::string& name) {
  static std::map<std::string, tables::Table> kept;
  auto found = kept.find(name);
  if (found == kept.end()) found = kept.emplace(name, read_published(name)).first;
  return found->second;
}

}  // namespace firstdraw::reference
