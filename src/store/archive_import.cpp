// A checked archive into a store, in one transaction. docs/archive.md.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "store/archive.hpp"
#include "store/archive_access.hpp"
#include "store/archive_check.hpp"
#include "store/archive_text.hpp"
#include "store/draft_check.hpp"
#include "store/file_rows.hpp"
#include "store/record_table.hpp"
#include "store/series_rows.hpp"
#include "store/session.hpp"

namespace firstdraw::store {

namespace {

using Kind = ArchivePath::Kind;
constexpr std::size_t kSamplesTogether = 500'000;

[[noreturn]] void other_book(const std::string& job, const std::string& why) {
  throw Stop{{FailureKind::bad_input,
              fmt::format("The book \"{}\" in the store is not the archive's: {}.", job, why),
              "Import into another store; the two cannot be put together."}};
}

std::int64_t samples_of(soci::session& sql, std::int64_t series) {
  const long long wanted = series;
  long long count = 0;
  sql << "SELECT CAST(COALESCE(SUM(samples), 0) AS BIGINT) FROM reading_day WHERE series = :series",
      soci::into(count), soci::use(wanted, "series");
  return count;
}

class Importer {
 public:
  Importer(soci::session& sql, Dialect dialect, const std::filesystem::path& from,
           const CheckedArchive& archive)
      : sql_(sql), dialect_(dialect), from_(from), archive_(archive) {
    for (const ArchiveEntry& entry : archive.manifest.entries) hashes_.emplace(entry.path, entry.sha256);
  }

  void run() {
    for (const ArchiveBook& book : archive_.manifest.books) {
      lock_book(sql_, dialect_, book.job);
      compare_head(book);
      adopt_series(book.job);
    }
    ZipReader zip(from_);
    while (const auto name = zip.next()) {
      const auto path =
          archive_path(std::string_view(*name).substr(std::min(archive_root.size(), name->size())));
      const bool known = path && (path->kind == Kind::manifest || hashes_.contains(text_of(*path)));
      if (!known) no_archive(from_, "it was changed while it was read");
      if (path->kind == Kind::records) take_records(zip, *path);
      if (path->kind == Kind::readings) take_readings(zip, *path);
      if (path->kind == Kind::file) take_file(zip, *path);
    }
  }

 private:
  /// Every hash holds all before it: where one is the same, all are.
  void compare_head(const ArchiveBook& book) {
    const Head head = head_of(sql_, book.job);
    if (head.number > book.records) other_book(book.job, "it has more records");
    if (head.number == book.records && head.hash != book.head_hash)
      other_book(book.job, "its records differ");
    heads_[book.job] = head;
  }

  void adopt_series(const std::string& job) {
    const std::vector<SeriesInfo>& wanted = archive_.series.at(job);
    for (const SeriesInfo& there : series_by_name(sql_, job)) {
      const auto same = std::ranges::find(wanted, there.name, &SeriesInfo::name);
      if (same == wanted.end() || same->quantity != there.quantity || same->place != there.place)
        other_book(job, fmt::format("its series \"{}\" differs", there.name));
    }
    for (const SeriesInfo& info : wanted) ids_[job].push_back(find_or_make_series(sql_, job, info));
  }

  /// The file may have been changed since it was checked.
  void read(ZipReader& zip, const ArchivePath& path, const std::function<void(std::string_view)>& take) {
    const std::string place = text_of(path);
    const ArchiveEntry entry = drain(zip, place, take);
    const auto known = hashes_.find(place);
    if (known == hashes_.end() || known->second != entry.sha256)
      no_archive(from_, "it was changed while it was read");
    hashes_.erase(known);
  }

  void take_records(ZipReader& zip, const ArchivePath& path) {
    const Head& head = heads_.at(path.job);
    Lines lines(longest_record, [&](std::string_view line) {
      const auto found = record_of_line(line, path.job);
      if (!found) no_archive(from_, found.error());
      const Record& record = *found;
      if (record.number == head.number && record.hash != head.hash)
        other_book(path.job, "its records differ");
      if (record.number > head.number) insert_row(sql_, row_of(record));
    });
    read(zip, path, [&](std::string_view bytes) { lines.feed(bytes); });
  }

  void take_readings(ZipReader& zip, const ArchivePath& path) {
    const std::int64_t series = ids_.at(path.job).at(static_cast<std::size_t>(path.series - 1));
    const std::int64_t before = samples_of(sql_, series);
    std::vector<Sample> waiting;
    WriteCount count;
    const auto put = [&] {
      const WriteCount now = merge_samples(sql_, dialect_, series, waiting);
      count.same += now.same;
      count.replaced += now.replaced;
      waiting.clear();
    };
    Lines lines(longest_csv_line, [&](std::string_view line) {
      const auto sample = read_sample(line);
      if (!sample) return;  // the heading
      const bool full = waiting.size() >= kSamplesTogether;
      if (full && day_of(waiting.back().at_ms) != day_of(sample->at_ms)) put();
      waiting.push_back(*sample);
    });
    read(zip, path, [&](std::string_view bytes) { lines.feed(bytes); });
    put();
    if (count.replaced > 0 || count.same != before) other_book(path.job, "it has other readings");
  }

  void take_file(ZipReader& zip, const ArchivePath& path) {
    std::string bytes;
    read(zip, path, [&](std::string_view piece) {
      if (bytes.size() + piece.size() > largest_file) no_archive(from_, "it was changed while it was read");
      bytes += piece;
    });
    insert_file(sql_, path.sha256, bytes);
  }

  soci::session& sql_;
  Dialect dialect_;
  const std::filesystem::path& from_;
  const CheckedArchive& archive_;
  std::map<std::string, std::string> hashes_;
  std::map<std::string, Head> heads_;
  std::map<std::string, std::vector<std::int64_t>> ids_;  // of the store, by the archive's
};

ArchiveCounts counts_of(const CheckedArchive& archive) {
  ArchiveCounts counts;
  counts.files = archive.files;
  for (const ArchiveBook& book : archive.manifest.books) {
    counts.jobs.push_back(book.job);
    counts.records += book.records;
    counts.series += book.series;
    counts.samples += book.samples;
  }
  return counts;
}

Result<CheckedArchive> checked(const std::filesystem::path& from) {
  try {
    return check_archive(from);
  } catch (const Stop& stop) {
    return std::unexpected(stop.failure);
  }
}

}  // namespace

Result<ArchiveCounts> import_archive(Store& store, const std::filesystem::path& from) {
  const auto archive = checked(from);
  if (!archive) return std::unexpected(archive.error());
  const Dialect dialect = ArchiveAccess::dialect(store);
  const auto done =
      ArchiveAccess::write(store, [&](soci::session& sql) { Importer(sql, dialect, from, *archive).run(); });
  if (!done) return std::unexpected(done.error());
  return counts_of(*archive);
}

}  // namespace firstdraw::store
