// The book of records: looked at, added to.
#include <nlohmann/json.hpp>

#include "prove/readings_file.hpp"
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

Answer kept_json(const store::Record& record, bool again, json verdicts) {
  return json_reply({{"number", record.number},
                     {"hash", record.hash},
                     {"entry", *record.entry},
                     {"again", again},
                     {"verdicts", std::move(verdicts)}},
                    201);
}

/// Verdicts of what is kept already, by the job as it is now; none when it does not read.
json verdicts_of(const store::Record& record, const Maybe<Looked>& looked) {
  const auto readings = prove::from_body(record.body);
  if (record.kind != store::RecordKind::test || !looked || !readings) return json::array();
  std::vector<ReadRow> rows;
  for (const prove::Reading& reading : *readings) rows.push_back({reading, {}});
  return judged_json(rows, *looked);
}

Answer keep(House& house, const Call& call) {
  const auto asked = read_new_record(call.body);
  if (!asked) return refuse(asked.error());
  const auto job = house.job(call.in_path("job"));
  if (!job) return std::unexpected(job.error());
  const auto known = house.books.find(**job, asked->entry);
  if (!known) return std::unexpected(known.error());
  const auto looked = (*job)->look();
  if (*known && is_made_of(**known, *asked)) return kept_json(**known, true, verdicts_of(**known, looked));
  if (!looked) return std::unexpected(looked.error());
  const auto made = draft_of(house, **job, *looked, *asked);
  if (!made) return std::unexpected(made.error());
  const auto kept = house.books.append(**job, made->draft);
  if (!kept) return std::unexpected(kept.error());
  for (const NamedFile& file : asked->files) house.uploads.done(file.sha256);
  return kept_json(kept->first, kept->second, judged_json(made->rows, *looked));
}

}  // namespace

void add_record_routes(Routes& routes) {
  routes.push_back({Method::get, "/api/jobs/{job}/records", Right::look, Body::none, book});
  routes.push_back({Method::post, "/api/jobs/{job}/records", Right::change, Body::json, keep});
}

}  // namespace firstdraw::serve
