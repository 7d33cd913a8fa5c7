// The book of records: looked at, added to.
#include <nlohmann/json.hpp>

#include "serve/house.hpp"
#include "serve/record_draft.hpp"
#include "serve/record_json.hpp"
#include "serve/route.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

Answer book(House& house, const Call& call) {
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto looked = (*job)->look();
  if (!looked) return std::unexpected(looked.error());
  const auto view = house.books.view(**job, *looked);
  if (!view) return std::unexpected(view.error());
  json list = json::array();
  const auto& records = (*view)->field.records;
  for (auto each = records.rbegin(); each != records.rend(); ++each)
    list.push_back(record_json(*each, (*view)->field, *looked));
  return json_reply(list);
}

Answer keep(House& house, const Call& call) {
  const auto asked = read_new_record(call.body);
  if (!asked) return refuse(asked.error());
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto looked = (*job)->look();
  if (!looked) return std::unexpected(looked.error());
  const auto made = draft_of(house, **job, *looked, *asked);
  if (!made) return std::unexpected(made.error());
  const auto kept = house.books.append(**job, made->draft);
  if (!kept) return std::unexpected(kept.error());
  for (const NamedFile& file : asked->files) house.uploads.done(file.sha256);
  const auto& [record, again] = *kept;
  return json_reply({{"number", record.number},
                     {"hash", record.hash},
                     {"entry", asked->entry},
                     {"again", again},
                     {"verdicts", judged_json(made->rows, *looked)}},
                    201);
}

}  // namespace

void add_record_routes(Routes& routes) {
  routes.push_back({Method::get, "/api/jobs/{job}/records", Right::look, Body::none, book});
  routes.push_back({Method::post, "/api/jobs/{job}/records", Right::change, Body::json, keep});
}

}  // namespace firstdraw::serve
