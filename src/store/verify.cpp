// Does every record still say what it said, in the order it was said?
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "store/json_text.hpp"
#include "store/record_table.hpp"
#include "store/session.hpp"
#include "store/sha256.hpp"

namespace firstdraw::store {
namespace {

using Break = Verification::Break;

/// What is wrong with a file: empty when it is there and unaltered.
std::string trouble_with_file(soci::session& sql, const Attachment& attachment) {
  std::string hex;
  sql << "SELECT encode(content, 'hex') FROM files WHERE sha256 = :sha256", soci::into(hex),
      soci::use(attachment.sha256, "sha256");
  if (!sql.got_data()) return "file missing";
  const std::string bytes = from_hex(hex);
  const bool same = bytes.size() == attachment.bytes && sha256_hex(bytes) == attachment.sha256;
  return same ? "" : "file altered";
}

/// Walks along a book, record by record.
class Walk {
 public:
  explicit Walk(std::string_view job) { found_.job = job; }

  void step(const RecordRow& row, std::string_view expected_head) {
    for (std::int64_t number = last_ + 1; number < row.number; ++number) {
      if (missing_++ == most_missing) break;  // a number far off must not fill the memory
      add(number, "missing");
    }
    const bool follows = row.number == last_ + 1;
    if (row.number <= last_ || (follows && row.previous_hash != found_.head_hash))
      add(row.number, "not chained to the one before");
    if (sha256_hex(canonical_text(row)) != row.hash || !record_of(row)) add(row.number, "altered");
    if (row.hash == expected_head) found_.head_found_at = row.number;
    if (const auto record = record_of(row))
      for (const Attachment& attachment : record->attachments)
        files_.emplace(attachment.sha256, Use{row.number, attachment});
    last_ = row.number;
    found_.head_hash = row.hash;
    ++found_.records;
  }

  /// Each file is read once, under the first record that has it.
  void check_files(soci::session& sql) {
    for (const auto& [sha256, use] : files_)
      if (const std::string trouble = trouble_with_file(sql, use.attachment); !trouble.empty())
        add(use.number, fmt::format("{}: {}", trouble, use.attachment.name));
  }

  Verification take() {
    std::ranges::stable_sort(found_.breaks, {}, &Break::number);
    return std::move(found_);
  }

 private:
  struct Use {
    std::int64_t number = 0;
    Attachment attachment{};
  };
  static constexpr int most_missing = 1000;

  void add(std::int64_t number, std::string what) { found_.breaks.push_back({number, std::move(what)}); }

  Verification found_{"", 0, std::string(no_hash), {}, 0};
  std::map<std::string, Use> files_;
  std::int64_t last_ = 0;
  int missing_ = 0;
};

}  // namespace

Result<Verification> Store::verify(std::string_view job, std::string_view expected_head) const {
  const std::string book(job);
  return inside_->read([&](soci::session& sql) {
    Walk walk(job);
    each_row(sql, book, std::numeric_limits<std::int64_t>::min(), "",
             [&](const RecordRow& row) { walk.step(row, expected_head); });
    walk.check_files(sql);
    return walk.take();
  });
}

}  // namespace firstdraw::store
