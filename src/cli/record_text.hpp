// Records as text and JSON for `firstdraw record` and `firstdraw verify`.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/page.hpp"
#include "prove/verdict.hpp"
#include "store/store.hpp"

namespace firstdraw::cli {

/// The first 16 digits of a hash in fours: what fits on a paper sheet and `verify --head` takes.
std::string short_hash(std::string_view hash);

/// schemas/record.schema.json.
nlohmann::json to_json(const store::Record& record);

void add_recorded(Page& page, const store::Record& record, const store::Store& store,
                  const std::vector<prove::Reading>& readings, const std::vector<prove::Verdict>& verdicts);
void add_list(Page& page, const std::vector<store::Record>& records, const std::string& book);
void add_shown(Page& page, const store::Record& record);

}  // namespace firstdraw::cli
