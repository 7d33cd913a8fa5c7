#include "store/archive_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

#include "store/archive_text.hpp"
#include "store/draft_check.hpp"
#include "store/pack.hpp"
#include "store/series_rows.hpp"
#include "store/session.hpp"
#include "store/sha256.hpp"
#include "store/sha256_stream.hpp"

namespace firstdraw::store {

namespace {

using Kind = ArchivePath::Kind;

/// What is wrong with the entry being read; the place is added outside.
struct Wrong {
  std::string why;
};

std::string without_dot(std::string text) {
  while (text.ends_with('.')) text.pop_back();
  return text;
}

/// The chain of one book.
class ChainCheck {
 public:
  explicit ChainCheck(std::string job) : job_(std::move(job)) {}

  void line(std::string_view line) {
    const auto found = record_of_line(line, job_);
    if (!found) throw Wrong{found.error()};
    const Record& record = *found;
    if (record.number != count_ + 1) throw Wrong{fmt::format("record {} is missing", count_ + 1)};
    if (record.previous_hash != head_) throw Wrong{"it is not chained to the record before"};
    if (record.corrects && (*record.corrects < 1 || *record.corrects >= record.number ||
                            !corrected_.insert(*record.corrects).second))
      throw Wrong{"it corrects a record that is not there or is corrected already"};
    if (record.entry && !entries_.insert(*record.entry).second)
      throw Wrong{fmt::format("the entry {} is that of an earlier record too", *record.entry)};
    for (const Attachment& attachment : record.attachments)
      attached_.emplace(attachment.sha256, static_cast<std::int64_t>(attachment.bytes));
    count_ = record.number;
    head_ = record.hash;
  }
  std::int64_t count() const { return count_; }
  const std::string& head() const { return head_; }
  const std::set<std::pair<std::string, std::int64_t>>& attached() const { return attached_; }

 private:
  std::string job_;
  std::int64_t count_ = 0;
  std::string head_{no_hash};
  std::set<std::int64_t> corrected_;
  std::set<std::string> entries_;
  std::set<std::pair<std::string, std::int64_t>> attached_;
};

class SeriesCheck {
 public:
  void line(std::string_view line) {
    if (!std::exchange(headed_, true)) {
      if (line != series_heading) throw Wrong{fmt::format("the heading must be {}", series_heading)};
      return;
    }
    auto info = read_series(line);
    if (!info) throw Wrong{fmt::format("expected {}", series_heading)};
    if (const auto bad = complaint_about(*info)) throw Wrong{without_dot(bad->what)};
    if (info->id != static_cast<std::int64_t>(all_.size()) + 1) throw Wrong{"the ids must be 1, 2, 3…"};
    if (!all_.empty() && info->name <= all_.back().name) throw Wrong{"the names must rise"};
    all_.push_back(*std::move(info));
  }
  bool headed() const { return headed_; }
  std::vector<SeriesInfo> take() { return std::move(all_); }

 private:
  bool headed_ = false;
  std::vector<SeriesInfo> all_;
};

class ReadingsCheck {
 public:
  void line(std::string_view line) {
    if (!std::exchange(headed_, true)) {
      if (line != readings_heading) throw Wrong{fmt::format("the heading must be {}", readings_heading)};
      return;
    }
    const auto sample = read_sample(line);
    if (!sample) throw Wrong{"expected milliseconds since 1970 and a number, as 1790000000000,50.5"};
    if (count_ > 0 && sample->at_ms <= last_ms_) throw Wrong{"the times must rise"};
    const std::int64_t day = day_of(sample->at_ms);
    if (count_ == 0 || day != day_) in_day_ = 0;
    if (++in_day_ > most_samples_a_day) throw Wrong{"more readings a day than a store takes"};
    day_ = day;
    last_ms_ = sample->at_ms;
    ++count_;
  }
  bool headed() const { return headed_; }
  std::int64_t count() const { return count_; }

 private:
  bool headed_ = false;
  std::int64_t count_ = 0, last_ms_ = 0, day_ = 0;
  std::size_t in_day_ = 0;
};

class Checker {
 public:
  explicit Checker(const std::filesystem::path& from) : from_(from), zip_(from) {}

  CheckedArchive check() {
    while (const auto name = zip_.next()) check_entry(*name);
    if (!manifest_) no_archive(from_, "it has no manifest.json");
    compare_entries();
    compare_books();
    compare_files();
    return {*std::move(manifest_), std::move(series_), static_cast<std::int64_t>(files_.size())};
  }

 private:
  void check_entry(const std::string& name) {
    const auto path = name.starts_with(archive_root)
                          ? archive_path(std::string_view(name).substr(archive_root.size()))
                          : std::nullopt;
    if (!path) no_archive(from_, fmt::format("{} does not belong into one", shown(name)));
    place_ = text_of(*path);
    line_ = 0;
    if (!seen_.insert(place_).second) no_archive(from_, fmt::format("{} is there twice", place_));
    try {
      read_entry(*path);
    } catch (const Wrong& wrong) {
      no_archive(from_, line_ > 0 ? fmt::format("{} line {}: {}", place_, line_, wrong.why)
                                  : fmt::format("{}: {}", place_, wrong.why));
    }
  }

  void read_entry(const ArchivePath& path) {
    switch (path.kind) {
      case Kind::manifest:
        return read_whole_manifest();
      case Kind::records:
        return read_records(path.job);
      case Kind::series:
        return read_series_list(path.job);
      case Kind::readings:
        return read_readings(path);
      case Kind::file:
        return read_file(path.sha256);
    }
  }

  /// A name out of a hostile file must not steer a terminal.
  static std::string shown(std::string_view name) {
    std::string text;
    for (const char c : name.substr(0, 100))
      text += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? '?' : c;
    return '"' + text + '"';
  }

  template <class Check>
  void read_lines(std::size_t longest, Check& check) {
    Lines lines(longest, [&](std::string_view line) {
      ++line_;
      check.line(line);
    });
    found_.push_back(drain(zip_, place_, [&](std::string_view bytes) {
      if (!lines.feed(bytes)) throw Wrong{fmt::format("a line of more than {} bytes", longest)};
    }));
    if (!lines.at_end()) throw Wrong{"it ends within a line"};
    line_ = 0;
  }

  void read_records(const std::string& job) {
    if (const auto bad = complaint_about_name("book", job)) throw Wrong{without_dot(bad->what)};
    ChainCheck chain(job);
    read_lines(longest_record, chain);
    attached_.insert(chain.attached().begin(), chain.attached().end());
    chains_.emplace(job, std::pair(chain.count(), chain.head()));
  }

  void read_series_list(const std::string& job) {
    SeriesCheck check;
    read_lines(longest_csv_line, check);
    if (!check.headed()) throw Wrong{"it has no heading"};
    series_.emplace(job, check.take());
  }

  void read_readings(const ArchivePath& path) {
    ReadingsCheck check;
    read_lines(longest_csv_line, check);
    if (!check.headed()) throw Wrong{"it has no heading"};
    readings_[path.job].emplace(path.series, check.count());
  }

  void read_file(const std::string& sha256) {
    std::int64_t size = 0;
    const ArchiveEntry entry = drain(zip_, place_, [&](std::string_view bytes) {
      size += static_cast<std::int64_t>(bytes.size());
      if (size > static_cast<std::int64_t>(largest_file)) throw Wrong{"it is larger than a store takes"};
    });
    if (entry.sha256 != sha256) throw Wrong{"its contents do not have the SHA-256 of its name"};
    files_.emplace(sha256, entry.bytes);
    found_.push_back(entry);
  }

  void read_whole_manifest() {
    std::string text;
    drain(zip_, place_, [&](std::string_view bytes) {
      if (text.size() + bytes.size() > longest_manifest) throw Wrong{"it is too long"};
      text += bytes;
    });
    auto manifest = read_manifest(text);
    if (!manifest) throw Wrong{manifest.error()};
    manifest_ = *std::move(manifest);
  }

  void compare_entries() {
    auto listed = manifest_->entries;
    std::ranges::sort(listed, {}, &ArchiveEntry::path);
    std::ranges::sort(found_, {}, &ArchiveEntry::path);
    const auto [in_list, in_file] = std::ranges::mismatch(listed, found_);
    if (in_list == listed.end() && in_file == found_.end()) return;
    const bool missing =
        in_file == found_.end() || (in_list != listed.end() && in_list->path < in_file->path);
    const bool altered = !missing && in_list != listed.end() && in_list->path == in_file->path;
    no_archive(from_, missing   ? fmt::format("{} is missing", shown(in_list->path))
                      : altered ? fmt::format("{} is not what the manifest says", in_file->path)
                                : fmt::format("{} is not in the manifest", in_file->path));
  }

  void compare_books() {
    std::set<std::string> named;
    for (const ArchiveBook& book : manifest_->books) {
      if (!named.insert(book.job).second || !is_as_listed(book))
        no_archive(from_, fmt::format("the book {} is not what the manifest says", shown(book.job)));
    }
    for (const auto& [job, ignored] : chains_) require_named(named, job);
    for (const auto& [job, ignored] : series_) require_named(named, job);
    for (const auto& [job, ignored] : readings_) require_named(named, job);
  }

  bool is_as_listed(const ArchiveBook& book) {
    const auto chain = chains_.find(book.job);
    const auto series = series_.find(book.job);
    if (chain == chains_.end() || series == series_.end()) return false;
    const auto& readings = readings_[book.job];
    std::int64_t samples = 0, number = 0;
    for (const auto& [id, count] : readings) {
      if (id != ++number) return false;
      samples += count;
    }
    return number == static_cast<std::int64_t>(series->second.size()) && number == book.series &&
           samples == book.samples && chain->second == std::pair(book.records, book.head_hash);
  }

  void require_named(const std::set<std::string>& named, const std::string& job) const {
    if (!named.contains(job)) no_archive(from_, fmt::format("the manifest has no book {}", shown(job)));
  }

  void compare_files() const {
    std::set<std::string> wanted;
    for (const auto& [sha256, bytes] : attached_) {
      const auto file = files_.find(sha256);
      if (file == files_.end() || file->second != bytes)
        no_archive(from_, fmt::format("the attachment {} is missing", sha256));
      wanted.insert(sha256);
    }
    for (const auto& [sha256, ignored] : files_)
      if (!wanted.contains(sha256)) no_archive(from_, fmt::format("no record has the file {}", sha256));
  }

  std::filesystem::path from_;
  ZipReader zip_;
  std::string place_;
  std::int64_t line_ = 0;
  std::set<std::string> seen_;
  std::vector<ArchiveEntry> found_;
  std::optional<Manifest> manifest_;
  std::map<std::string, std::pair<std::int64_t, std::string>> chains_;  // count, head
  std::map<std::string, std::vector<SeriesInfo>> series_;
  std::map<std::string, std::map<std::int64_t, std::int64_t>> readings_;
  std::map<std::string, std::int64_t> files_;
  std::set<std::pair<std::string, std::int64_t>> attached_;
};

}  // namespace

CheckedArchive check_archive(const std::filesystem::path& from) { return Checker(from).check(); }

ArchiveEntry drain(ZipReader& zip, const std::string& path,
                   const std::function<void(std::string_view)>& take) {
  Sha256Stream hash;
  std::array<char, 1U << 16U> buffer{};
  while (const std::size_t count = zip.read(buffer)) {
    const std::string_view bytes(buffer.data(), count);
    hash.add(bytes);
    take(bytes);
  }
  const std::int64_t bytes = hash.bytes();
  return {path, bytes, hash.finish()};
}

std::expected<Record, std::string> record_of_line(std::string_view line, const std::string& job) {
  auto record = read_canonical(line);
  if (!record) return std::unexpected(record.error());
  if (record->hash != sha256_hex(line)) return std::unexpected("it is not written in the canonical form");
  if (record->job != job) return std::unexpected("it belongs to another book");
  if (const auto bad = complaint_about(record->job, *record)) return std::unexpected(without_dot(bad->what));
  return record;
}

}  // namespace firstdraw::store
