#include "store/record_table.hpp"

#include <fmt/format.h>

#include "store/session.hpp"

namespace firstdraw::store {
namespace {

constexpr std::string_view columns =
    "job, number, kind, at, who, instruments, body, attachments, corrects, stored_at, previous_hash, hash, "
    "entry";

RecordRow row_of(const soci::row& from) {
  RecordRow row;
  std::size_t i = 0;
  row.job = from.get<std::string>(i++);
  row.number = from.get<long long>(i++);
  for (std::string* text : {&row.kind, &row.at, &row.who, &row.instruments, &row.body, &row.attachments})
    *text = from.get<std::string>(i++);
  if (from.get_indicator(i) == soci::i_ok) row.corrects = from.get<long long>(i);
  ++i;
  for (std::string* text : {&row.stored_at, &row.previous_hash, &row.hash})
    *text = from.get<std::string>(i++);
  if (from.get_indicator(i) == soci::i_ok) row.entry = from.get<std::string>(i);
  return row;
}

}  // namespace

void insert_row(soci::session& sql, const RecordRow& row) {
  const long long number = row.number, corrects = row.corrects.value_or(0);
  const std::string entry = row.entry.value_or("");
  soci::indicator given = row.corrects ? soci::i_ok : soci::i_null;
  soci::indicator named = row.entry ? soci::i_ok : soci::i_null;
  sql << "INSERT INTO records (" << columns
      << ") VALUES (:job, :number, :kind, :at, :who, :instruments, :body, :attachments, :corrects, "
         ":stored_at, :previous_hash, :hash, :entry)",
      soci::use(row.job, "job"), soci::use(number, "number"), soci::use(row.kind, "kind"),
      soci::use(row.at, "at"), soci::use(row.who, "who"), soci::use(row.instruments, "instruments"),
      soci::use(row.body, "body"), soci::use(row.attachments, "attachments"),
      soci::use(corrects, given, "corrects"), soci::use(row.stored_at, "stored_at"),
      soci::use(row.previous_hash, "previous_hash"), soci::use(row.hash, "hash"),
      soci::use(entry, named, "entry");
}

Record readable(const RecordRow& row) {
  auto record = record_of(row);
  if (!record)
    throw Stop{{FailureKind::damaged,
                fmt::format("Record {} of \"{}\" cannot be read: {}.", row.number, row.job, record.error()),
                "firstdraw verify shows which records were altered."}};
  return *std::move(record);
}

void each_row(soci::session& sql, const std::string& job, std::int64_t from_number, const std::string& kind,
              const std::function<void(const RecordRow&)>& take) {
  const long long from = from_number;
  const soci::rowset<soci::row> rows =
      (sql.prepare << "SELECT " << columns
                   << " FROM records WHERE job = :job AND number >= :from_number AND "
                      "(:any_kind = '' OR kind = :kind) ORDER BY number",
       soci::use(job, "job"), soci::use(from, "from_number"), soci::use(kind, "any_kind"),
       soci::use(kind, "kind"));
  for (const soci::row& row : rows) take(row_of(row));
}

Head head_of(soci::session& sql, const std::string& job) {
  long long number = 0;
  std::string hash;
  sql << "SELECT number, hash FROM records WHERE job = :job ORDER BY number DESC LIMIT 1", soci::into(number),
      soci::into(hash), soci::use(job, "job");
  return sql.got_data() ? Head{number, hash} : Head{};
}

std::optional<std::string> hash_at(soci::session& sql, const std::string& job, std::int64_t number) {
  const long long wanted = number;
  std::string hash;
  sql << "SELECT hash FROM records WHERE job = :job AND number = :number", soci::into(hash),
      soci::use(job, "job"), soci::use(wanted, "number");
  return sql.got_data() ? std::optional(hash) : std::nullopt;
}

std::optional<RecordRow> row_of_entry(soci::session& sql, const std::string& job, const std::string& entry) {
  soci::row row;
  sql << "SELECT " << columns << " FROM records WHERE job = :job AND entry = :entry", soci::into(row),
      soci::use(job, "job"), soci::use(entry, "entry");
  return sql.got_data() ? std::optional(row_of(row)) : std::nullopt;
}

std::int64_t corrector_of(soci::session& sql, const std::string& job, std::int64_t number) {
  const long long wanted = number;
  long long by = 0;
  sql << "SELECT number FROM records WHERE job = :job AND corrects = :corrects", soci::into(by),
      soci::use(job, "job"), soci::use(wanted, "corrects");
  return sql.got_data() ? by : 0;
}

}  // namespace firstdraw::store
