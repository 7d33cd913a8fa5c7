// Everything of one or all books into a ZIP file. docs/archive.md.
#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "store/archive.hpp"
#include "store/archive_access.hpp"
#include "store/archive_layout.hpp"
#include "store/archive_manifest.hpp"
#include "store/archive_text.hpp"
#include "store/archive_zip.hpp"
#include "store/pack.hpp"
#include "store/record_table.hpp"
#include "store/series_rows.hpp"
#include "store/session.hpp"
#include "store/sha256.hpp"
#include "store/sha256_stream.hpp"

namespace firstdraw::store {

namespace {

using Kind = ArchivePath::Kind;

class Exporter {
 public:
  Exporter(soci::session& sql, ZipWriter& zip) : sql_(sql), zip_(zip) {}

  void add_book(const std::string& job) {
    book_ = ArchiveBook{job, 0, std::string(no_hash), 0, 0};
    add_records();
    add_series();
    manifest_.books.push_back(book_);
    counts_.jobs.push_back(job);
    counts_.records += book_.records;
    counts_.series += book_.series;
    counts_.samples += book_.samples;
  }
  void add_files() {
    for (const std::string& sha256 : files_) add_file(sha256);
  }
  ArchiveCounts finish() {
    zip_.begin(below_root("manifest.json"));
    zip_.add(to_json(manifest_));
    zip_.end();
    zip_.finish();
    return counts_;
  }

 private:
  /// One entry; `fill` adds its bytes.
  template <class Fill>
  void entry(const ArchivePath& path, Fill fill) {
    const std::string name = text_of(path);
    Sha256Stream hash;
    zip_.begin(below_root(name));
    fill([&](std::string_view bytes) {
      hash.add(bytes);
      zip_.add(bytes);
    });
    zip_.end();
    const std::int64_t bytes = hash.bytes();
    manifest_.entries.push_back({name, bytes, hash.finish()});
  }

  void add_records() {
    entry({Kind::records, book_.job}, [&](auto add) {
      each_row(sql_, book_.job, 1, "", [&](const RecordRow& row) { add(line_of(row)); });
    });
  }

  /// What is exported must be whole: nobody could import the rest.
  std::string line_of(const RecordRow& row) {
    const auto record = record_of(row);
    std::string line = canonical_text(row);
    const std::string hash = sha256_hex(line);
    if (!record || row.number != book_.records + 1 || row.previous_hash != book_.head_hash ||
        row.hash != hash)
      throw Stop{
          {FailureKind::damaged,
           fmt::format("Record {} of \"{}\" is not what it was when it was stored.", row.number, row.job),
           "firstdraw verify shows what is wrong with the book; put a back-up in its place."}};
    for (const Attachment& attachment : record->attachments) files_.insert(attachment.sha256);
    ++book_.records;
    book_.head_hash = row.hash;
    return line + '\n';
  }

  void add_series() {
    auto series = series_by_name(sql_, book_.job);
    book_.series = static_cast<std::int64_t>(series.size());
    entry({Kind::series, book_.job}, [&](auto add) {
      add(series_heading);
      add("\n");
      std::int64_t number = 0;
      for (SeriesInfo info : series) {
        info.id = ++number;  // the store's own would differ from store to store
        add(series_line(info));
      }
    });
    std::int64_t number = 0;
    for (const SeriesInfo& info : series) add_readings(info.id, ++number);
  }

  void add_readings(std::int64_t id, std::int64_t number) {
    entry({Kind::readings, book_.job, number}, [&](auto add) {
      add(readings_heading);
      add("\n");
      const auto add_day = [&](std::int64_t /*day*/, const std::vector<Sample>& samples) {
        std::string lines;
        for (const Sample& sample : samples) add_line(lines, sample);
        add(lines);
        book_.samples += static_cast<std::int64_t>(samples.size());
      };
      each_day(sql_, id, day_of(-latest_ms), day_of(latest_ms), add_day);
    });
  }

  void add_file(const std::string& sha256) {
    std::string hex;
    sql_ << "SELECT encode(content, 'hex') FROM files WHERE sha256 = :sha256", soci::into(hex),
        soci::use(sha256, "sha256");
    const std::string bytes = sql_.got_data() ? from_hex(hex) : std::string();
    if (!sql_.got_data() || sha256_hex(bytes) != sha256)
      throw Stop{{FailureKind::damaged,
                  fmt::format("The file with SHA-256 {} is missing or altered.", sha256),
                  "firstdraw verify shows which records it belongs to; put a back-up in its place."}};
    entry({Kind::file, {}, 0, sha256}, [&](auto add) { add(bytes); });
    ++counts_.files;
  }

  soci::session& sql_;
  ZipWriter& zip_;
  ArchiveBook book_{};
  Manifest manifest_{};
  ArchiveCounts counts_{};
  std::set<std::string> files_;
};

std::vector<std::string> books_of(soci::session& sql, std::string_view wanted) {
  const soci::rowset<std::string> rows =
      (sql.prepare << "SELECT job FROM records UNION SELECT job FROM series");
  std::vector<std::string> jobs(rows.begin(), rows.end());
  std::ranges::sort(jobs);
  if (wanted.empty()) return jobs;
  if (std::ranges::find(jobs, wanted) == jobs.end())
    throw Stop{{FailureKind::bad_input, fmt::format("There is no book \"{}\" in the store.", wanted),
                "Give the name of a book that is there, or none for all of them."}};
  return {std::string(wanted)};
}

}  // namespace

Result<ArchiveCounts> export_archive(const Store& store, const std::filesystem::path& to,
                                     std::string_view job) {
  ArchiveCounts counts;
  const auto done = ArchiveAccess::read(store, [&](soci::session& sql) {
    ZipWriter zip(to);
    Exporter exporter(sql, zip);
    for (const std::string& book : books_of(sql, job)) exporter.add_book(book);
    exporter.add_files();
    counts = exporter.finish();
  });
  if (!done) return std::unexpected(done.error());
  return counts;
}

}  // namespace firstdraw::store
