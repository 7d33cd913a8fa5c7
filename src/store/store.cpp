#include "store/store.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "store/append.hpp"
#include "store/draft_check.hpp"
#include "store/record_table.hpp"
#include "store/session.hpp"

namespace firstdraw::store {
namespace {

std::vector<std::string> texts(const soci::rowset<std::string>& rows) { return {rows.begin(), rows.end()}; }

std::set<std::int64_t> corrected_numbers(soci::session& sql, const std::string& job) {
  const soci::rowset<long long> rows =
      (sql.prepare << "SELECT corrects FROM records WHERE job = :job AND corrects IS NOT NULL",
       soci::use(job, "job"));
  return {rows.begin(), rows.end()};
}

}  // namespace

Store::Store(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Result<Store> Store::open(std::string_view where, bool create) {
  auto address = parse_address(where);
  if (!address) return std::unexpected(std::move(address).error());
  auto inside = std::make_unique<Inside>(*std::move(address));
  if (auto opened = inside->open(create); !opened) return std::unexpected(std::move(opened).error());
  return Store(std::move(inside));
}

Result<Record> Store::append(std::string_view job, const Draft& draft) {
  if (auto wrong = complaint_about(job, draft)) return std::unexpected(*std::move(wrong));
  const std::string book(job);
  Record record;
  const auto got_through = [&](soci::session& sql) {
    inside_->side.lock_book(sql, book);
    return hash_at(sql, book, record.number) == record.hash;
  };
  const auto work = [&](soci::session& sql) {
    inside_->side.lock_book(sql, book);
    if (auto sent_before = record_of_entry(sql, book, draft)) {
      record = *std::move(sent_before);
      return;
    }
    const auto& unsure = inside_->unsure;
    const bool same = unsure && unsure->record.job == book && unsure->draft == draft;
    if (same && hash_at(sql, book, unsure->record.number) == unsure->record.hash)
      record = unsure->record;
    else
      insert_row(sql, row_of(record = next_record(sql, book, draft)));
  };
  auto done = inside_->run(Inside::Access::write, work, got_through);
  if (!done && inside_->fate_unknown) inside_->unsure = {draft, record};
  if (!done) return std::unexpected(std::move(done).error());
  inside_->unsure.reset();
  return record;
}

Result<std::vector<Record>> Store::records(std::string_view job, const Wanted& wanted) const {
  const std::string book(job), kind(wanted.kind ? name_of(*wanted.kind) : "");
  return inside_->read([&](soci::session& sql) {
    std::set<std::int64_t> without;
    if (!wanted.with_corrected) without = corrected_numbers(sql, book);
    std::vector<Record> records;
    each_row(sql, book, wanted.from_number, kind, [&](const RecordRow& row) {
      if (!without.contains(row.number)) records.push_back(readable(row));
    });
    return records;
  });
}

Result<std::vector<std::string>> Store::jobs() const {
  return inside_->read([](soci::session& sql) {
    auto jobs = texts((sql.prepare << "SELECT job FROM records UNION SELECT job FROM series"));
    std::ranges::sort(jobs);  // by bytes, whatever order the database's language has
    return jobs;
  });
}

const std::string& Store::where() const { return inside_->address.shown; }

}  // namespace firstdraw::store
