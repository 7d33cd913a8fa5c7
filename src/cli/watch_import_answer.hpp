// What `firstdraw watch import` found in a log, on the terminal and as JSON (schemas/log-import.schema.json).
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "cli/page.hpp"
#include "store/series.hpp"
#include "units/quantity.hpp"
#include "watch/log_format.hpp"
#include "watch/log_import.hpp"

namespace firstdraw::cli {

/// What of one series came into the store.
struct StoredSeries {
  std::string name;
  store::WriteCount count;
};

struct ImportAnswer {
  std::string log, sha256;
  watch::LogFormat format;
  std::string format_from;          // "a guess", or the format file
  double sure_frac = 1;             // of a guess
  std::vector<std::string> doubts;  // of a guess
  std::vector<std::vector<std::string>> preview;
  watch::LogImport read;
  bool held_back = false;            // doubts that nobody settled: nothing was stored
  bool stored = false;               // this time
  std::int64_t record = 0;           // that says so; of an earlier import where the file is known
  std::string known_since;           // when the same file was imported before; empty: never
  std::string store, book;           // where it went
  std::vector<StoredSeries> series;  // what came into the store
};

void add_answer(Page& page, const ImportAnswer& answer, const std::string& folder, units::System system);
nlohmann::json to_json(const ImportAnswer& answer);
/// Body of the record that an import leaves.
nlohmann::json record_body(const ImportAnswer& answer);

}  // namespace firstdraw::cli
