// The records behind the pack and the hash that seals them.
#include <fmt/format.h>

#include <algorithm>

#include "paper/field_words.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {
namespace {

void seal(Book& book, const Pack& pack) {
  const store::Verification& chain = pack.field->chain;
  facts(book,
        {{"Book", chain.job},
         {"Records", fmt::format("{}", chain.records)},
         {"Hash", long_hash(chain.head_hash)}},
        1);
  paragraph(
      book,
      "Each record carries a hash of itself and of the record before it, so an altered or removed record "
      "shows. This hash is of the last one: “firstdraw verify” with it, or any SHA-256 tool over "
      "records.jsonl beside this document, shows whether the records are still those of this page. Keep "
      "a signed copy on paper.",
      small_style);
  if (chain.whole()) return;
  std::string broken;
  for (const store::Verification::Break& each : chain.breaks)
    broken += fmt::format("{}record {}: {}", broken.empty() ? "" : "; ", each.number, each.what);
  caution(book, "The records do not verify", broken + ". Do not rely on them before it is known why.");
}

Table listed(const Pack& pack) {
  Table table;
  table.columns = {{"No.", "", Anchor::end}, {"What", ""}, {"When", ""},       {"Who", ""},
                   {"Instruments", ""},      {"", ""},     {"Hash begins", ""}};
  table.size_pt = 7;
  for (const store::Record& record : pack.field->records) {
    std::string instruments, remark;
    for (const store::Instrument& each : record.instruments)
      instruments += (instruments.empty() ? "" : "; ") +
                     instrument_text({each.name, each.serial, each.calibration_due, {}});
    if (record.corrects) remark = fmt::format("corrects {}", *record.corrects);
    if (is_corrected(pack.field->records, record.number))
      remark += remark.empty() ? "corrected" : ", corrected";
    table.rows.push_back({Row::Kind::plain,
                          {fmt::format("{}", record.number), kind_text(record.kind), moment_text(record.at),
                           record.who, instruments, remark, short_hash(record.hash)}});
  }
  return table;
}

}  // namespace

void recorded(Book& book, const Pack& pack) {
  if (!pack.field || pack.field->records.empty()) return;
  sheet(book, "Records", "What was recorded, by whom and when; records are only ever added");
  seal(book, pack);
  flow(book, listed(pack));
}

}  // namespace firstdraw::paper
