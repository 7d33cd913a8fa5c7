// An archive into an empty store: bytes of a ZIP file, or "@@ NAME" and contents to be put into one. What is
// taken in is whole and goes out again.
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <vector>

#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "store/archive.hpp"
#include "store/archive_layout.hpp"
#include "store/archive_manifest.hpp"
#include "store/archive_zip.hpp"
#include "store/record.hpp"
#include "store/sha256.hpp"

namespace firstdraw::fuzz {
namespace {

namespace fs = std::filesystem;

using Files = std::map<std::string, std::string, std::less<>>;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// Numbers and hashes of the records as they must be, where a line is a record at all.
std::string chained(const std::string& text, store::ArchiveBook& book) {
  std::string out;
  for (const std::string& line : lines_of(text)) {
    auto record = store::read_canonical(line);
    if (record) {
      record->job = book.job;
      record->number = book.records + 1;
      record->previous_hash = book.head_hash;
    }
    const std::string written = record ? store::canonical_text(*record) : line;
    out += written + '\n';
    ++book.records;
    book.head_hash = store::sha256_hex(written);
  }
  return out;
}

/// A manifest that fits the files: hashes are in the way of a fuzzer, not of somebody who means harm.
std::string manifest_for(Files& files) {
  store::Manifest manifest;
  std::map<std::string, store::ArchiveBook> books;
  for (auto& [name, text] : files) {
    const auto path = store::archive_path(name);
    if (path && !path->job.empty()) {
      auto& book = books.try_emplace(path->job, store::ArchiveBook{path->job, 0, std::string(64, '0'), 0, 0})
                       .first->second;
      const auto lines = static_cast<std::int64_t>(lines_of(text).size());
      if (path->kind == store::ArchivePath::Kind::records) text = chained(text, book);
      if (path->kind == store::ArchivePath::Kind::series) book.series += lines - 1;
      if (path->kind == store::ArchivePath::Kind::readings) book.samples += lines - 1;
    }
    manifest.entries.push_back({name, static_cast<std::int64_t>(text.size()), store::sha256_hex(text)});
  }
  for (const auto& [job, book] : books) manifest.books.push_back(book);
  return store::to_json(manifest);
}

void make_zip(const fs::path& path, std::string_view input) {
  Files files = files_in(input);
  std::erase_if(files, [](const auto& file) {
    const std::string& name = file.first;
    return name.empty() || name.size() > 200 || name.find('\0') != std::string::npos;
  });
  if (!files.contains("manifest.json")) {
    try {
      files["manifest.json"] = manifest_for(files);
    } catch (const nlohmann::json::exception&) {  // a name that is no UTF-8
      files["manifest.json"] = "{}";
    }
  }
  store::ZipWriter zip(path);
  for (const auto& [name, text] : files) {
    zip.begin("firstdraw-archive/" + name);
    zip.add(text);
    zip.end();
  }
  zip.finish();
}

void check_taken(const store::Store& store, const fs::path& folder) {
  const auto jobs = store.jobs();
  if (!jobs) broken("books that were imported can be listed");
  for (const auto& job : *jobs) {
    const auto verified = store.verify(job);
    if (!verified || !verified->whole()) broken("a book that was imported is whole");
  }
  if (!store::export_archive(store, folder / "again.zip")) broken("what was imported can be exported");
}

}  // namespace

int one_archive(const std::uint8_t* data, std::size_t size) {
  const fs::path folder = empty_folder("archive");
  const fs::path zip = folder / "in.zip";
  const std::string_view input = text_of(data, size);
  if (input.starts_with("PK")) {
    write(zip, input);
  } else {
    make_zip(zip, input);  // its own trouble with a name is none of the import's
  }
  auto opened = store::Store::open((folder / "records.db").string());
  if (!opened) broken("a store can be opened");
  const auto counts = store::import_archive(*opened, zip);
  if (counts) {
    check_taken(*opened, folder);
  } else if (const auto jobs = opened->jobs(); !jobs || !jobs->empty()) {
    broken("an archive that is refused leaves nothing");
  }
  return 0;
}

}  // namespace firstdraw::fuzz
