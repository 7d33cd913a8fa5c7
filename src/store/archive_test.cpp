#include "store/archive.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <fstream>
#include <functional>
#include <map>
#include <random>

#include "places.hpp"
#include "store/archive_check.hpp"
#include "store/archive_manifest.hpp"
#include "store/archive_zip.hpp"
#include "store/session.hpp"
#include "store/sha256.hpp"
#include "store/test_place.hpp"

namespace firstdraw::store {
namespace {

namespace fs = std::filesystem;
using Samples = std::vector<Sample>;
constexpr std::int64_t kStart = 1'788'480'000'000;

std::string bytes_of(const fs::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}
void put(const fs::path& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

void add_series(Store& store, const std::string& job, const std::string& name, std::size_t count) {
  const std::int64_t id = store.series(job, {0, name, "temperature", "riser \"a\", north"}).value();
  Samples samples;
  for (std::size_t i = 0; i < count; ++i)
    samples.push_back({kStart + static_cast<std::int64_t>(i) * 60'000, 50 + static_cast<double>(i % 97) / 7});
  ASSERT_TRUE(store.write(id, samples));
}

/// Two books with all that a book can have.
void fill(Store& store) {
  const auto photo =
      store.put_file("panel.jpg", "image/jpeg", std::string("\xff\xd8 no picture\0", 14)).value();
  for (int i = 1; i <= 5; ++i) {
    Draft draft = note("line " + std::to_string(i) + " \\u00e9");
    draft.instruments = {{"Insulation tester", "INV-12", "2027-03-01"}};
    if (i == 2) draft.attachments = {photo};
    if (i == 4) draft.corrects = 3;
    if (i >= 4) draft.entry = "phone-" + std::to_string(i);
    ASSERT_TRUE(store.append("clinic / north", draft));
  }
  ASSERT_TRUE(store.append("hotel", note("only")));
  add_series(store, "clinic / north", "riser-b, return", 3000);
  add_series(store, "clinic / north", "riser-a", 20);
  store.series("clinic / north", {0, "silent", "on", ""}).value();
  add_series(store, "readings only", "x", 5);
}

class Archive : public OnBothDatabases {
 protected:
  fs::path path(const std::string& name) const { return place().folder() / name; }
};

TEST_P(Archive, RoundTripIsIdentityAlsoAcrossDatabases) {
  Store store = place().open();
  fill(store);
  const auto counts = export_archive(store, path("1.zip"));
  ASSERT_TRUE(counts) << counts.error().what;
  EXPECT_EQ(counts->jobs, (std::vector<std::string>{"clinic / north", "hotel", "readings only"}));
  EXPECT_EQ(counts->records, 6);
  EXPECT_EQ(counts->files, 1);
  EXPECT_EQ(counts->series, 4);
  EXPECT_EQ(counts->samples, 3025);

  const TestPlace other_place(GetParam() == Dialect::sqlite && !test_server().empty() ? Dialect::postgresql
                                                                                      : Dialect::sqlite);
  Store other = other_place.open();
  other.series("unrelated", {0, "shifts the ids", "on", ""}).value();
  const auto imported = import_archive(other, path("1.zip"));
  ASSERT_TRUE(imported) << imported.error().what;
  EXPECT_EQ(imported->samples, 3025);
  EXPECT_EQ(imported->records, 6);
  for (const std::string job : {"clinic / north", "hotel"}) {
    EXPECT_TRUE(other.verify(job).value().whole());
    EXPECT_EQ(other.records(job).value(), store.records(job).value());
    ASSERT_TRUE(export_archive(store, path("2.zip"), job));
    ASSERT_TRUE(export_archive(other, path("3.zip"), job));
    EXPECT_TRUE(bytes_of(path("2.zip")) == bytes_of(path("3.zip"))) << job;
  }

  const TestPlace third_place(GetParam());
  Store third = third_place.open();
  ASSERT_TRUE(import_archive(third, path("1.zip")));
  ASSERT_TRUE(export_archive(third, path("4.zip")));
  EXPECT_TRUE(bytes_of(path("1.zip")) == bytes_of(path("4.zip")));
}

TEST_P(Archive, SameContentsGiveTheSameBytesAndWhatIsThereIsReplaced) {
  Store store = place().open();
  fill(store);
  put(path("a.zip"), "something else");
  ASSERT_TRUE(export_archive(store, path("a.zip")));
  ASSERT_TRUE(export_archive(store, path("b.zip")));
  EXPECT_TRUE(bytes_of(path("a.zip")) == bytes_of(path("b.zip")));
  int files = 0;
  for (const auto& file : fs::directory_iterator(place().folder()))
    files += file.path().filename().string().starts_with("a.zip") ? 1 : 0;
  EXPECT_EQ(files, 1) << "nothing is left beside it";
}

TEST_P(Archive, AnEmptyStoreHasOneToo) {
  Store store = place().open();
  EXPECT_EQ(export_archive(store, path("a.zip")).value().records, 0);
  EXPECT_EQ(import_archive(store, path("a.zip")).value().records, 0);
}

TEST_P(Archive, OfABookThatIsNotThereIsBadInput) {
  Store store = place().open();
  EXPECT_EQ(export_archive(store, path("a.zip"), "clinic").error().kind, FailureKind::bad_input);
  EXPECT_FALSE(fs::exists(path("a.zip")));
}

TEST_P(Archive, ABookThatIsABeginningTakesWhatIsNew) {
  Store store = place().open();
  fill(store);
  ASSERT_TRUE(export_archive(store, path("early.zip")));
  ASSERT_TRUE(store.append("clinic / north", note("later")));
  add_series(store, "clinic / north", "riser-a", 200);
  add_series(store, "clinic / north", "riser-0", 2);
  ASSERT_TRUE(export_archive(store, path("late.zip")));

  const TestPlace other_place(GetParam());
  Store other = other_place.open();
  ASSERT_TRUE(import_archive(other, path("early.zip")));
  ASSERT_TRUE(import_archive(other, path("early.zip"))) << "the same again changes nothing";
  const auto late = import_archive(other, path("late.zip"));
  ASSERT_TRUE(late) << late.error().what;
  ASSERT_TRUE(export_archive(other, path("back.zip")));
  EXPECT_TRUE(bytes_of(path("late.zip")) == bytes_of(path("back.zip")));
  EXPECT_EQ(import_archive(other, path("early.zip")).error().kind, FailureKind::bad_input)
      << "the book has gone on since";
}

TEST_P(Archive, ABookThatDiffersIsLeftAlone) {
  Store store = place().open();
  fill(store);
  ASSERT_TRUE(export_archive(store, path("a.zip")));
  const auto refused = [&](const auto& make) {
    const TestPlace other_place(GetParam());
    Store other = other_place.open();
    make(other);
    ASSERT_TRUE(export_archive(other, path("before.zip")));
    EXPECT_EQ(import_archive(other, path("a.zip")).error().kind, FailureKind::bad_input);
    ASSERT_TRUE(export_archive(other, path("after.zip")));
    EXPECT_TRUE(bytes_of(path("before.zip")) == bytes_of(path("after.zip"))) << "nothing may change";
  };
  refused([](Store& other) { ASSERT_TRUE(other.append("hotel", note("another"))); });
  refused([](Store& other) { other.series("hotel", {0, "more", "on", ""}).value(); });
  refused([](Store& other) { other.series("readings only", {0, "x", "current", ""}).value(); });
  refused([](Store& other) { add_series(other, "readings only", "x", 6); });
  refused([](Store& other) {
    add_series(other, "readings only", "x", 3);
    ASSERT_TRUE(other.write(other.series_of("readings only").value().front().id, Samples{{kStart, 0}}));
  });
}

TEST_P(Archive, ABrokenBookIsNotExported) {
  Store store = place().open();
  fill(store);
  *place().forger() << "UPDATE records SET who = 'Somebody Else' WHERE number = 2";
  EXPECT_EQ(export_archive(store, path("a.zip")).error().kind, FailureKind::damaged);
  EXPECT_FALSE(fs::exists(path("a.zip")));
}

INSTANTIATE_TEST_SUITE_P(On, Archive, both_databases, database_name);

// --- hostile archives ------------------------------------------------------------------------------------

using Entries = std::map<std::string, std::string>;  // without the root

class HostileArchive : public testing::Test {
 protected:
  HostileArchive()
      : place_(Dialect::sqlite),
        empty_place_(Dialect::sqlite),
        store_(place_.open()),
        empty_(empty_place_.open()) {
    fill(store_);
    EXPECT_TRUE(export_archive(store_, path("good.zip")));
    ZipReader zip(path("good.zip"));
    while (const auto name = zip.next()) {
      std::string& bytes = entries_[name->substr(archive_root.size())];
      drain(zip, *name, [&](std::string_view piece) { bytes += piece; });
    }
  }
  fs::path path(const std::string& name) const { return place_.folder() / name; }

  static void add(ZipWriter& zip, const std::string& name, const std::string& bytes) {
    zip.begin(name);
    zip.add(bytes);
    zip.end();
  }
  void write(const Entries& entries, const std::string& also = "", const std::string& with = "") const {
    ZipWriter zip(path("bad.zip"));
    for (const auto& [name, bytes] : entries) add(zip, below_root(name), bytes);
    if (!also.empty()) add(zip, also, with);
    zip.finish();
  }
  /// The manifest made anew for what the entries are now.
  static void list_anew(Entries& entries) {
    Manifest manifest = read_manifest(entries.at("manifest.json")).value();
    manifest.entries.clear();
    for (const auto& [name, bytes] : entries)
      if (name != "manifest.json")
        manifest.entries.push_back({name, static_cast<std::int64_t>(bytes.size()), sha256_hex(bytes)});
    entries["manifest.json"] = to_json(manifest);
  }

  std::string refusal() {
    const auto imported = import_archive(empty_, path("bad.zip"));
    if (imported) return "";
    EXPECT_EQ(imported.error().kind, FailureKind::bad_input) << imported.error().what;
    EXPECT_TRUE(empty_.jobs().value().empty()) << "nothing may be written";
    return imported.error().what;
  }
  /// What is said when `change` was done to the entries, listed as they are.
  std::string after(const std::function<void(Entries&)>& change, bool listed = true) {
    Entries entries = entries_;
    change(entries);
    if (listed) list_anew(entries);
    write(entries);
    return refusal();
  }

  TestPlace place_, empty_place_;
  Store store_, empty_;
  Entries entries_;
};

void replace(std::string& text, const std::string& old, const std::string& now) {
  const auto at = text.find(old);
  ASSERT_NE(at, std::string::npos) << old;
  text.replace(at, old.size(), now);
}

const std::string kRecords = "books/clinic%20%2f%20north/records.jsonl";
const std::string kSeries = "books/clinic%20%2f%20north/series.csv";
const std::string kReadings = "books/clinic%20%2f%20north/readings/1.csv";

TEST_F(HostileArchive, TheSpoilingItselfSpoilsNothing) {
  EXPECT_EQ(after([](Entries&) {}), "");
  EXPECT_TRUE(entries_.contains(kRecords) && entries_.contains(kSeries) && entries_.contains(kReadings));
}

using testing::HasSubstr;

TEST_F(HostileArchive, PathsOutsideAndForeignFiles) {
  for (const std::string name :
       {"../evil", "/etc/passwd", "firstdraw-archive/../evil", "firstdraw-archive/books/../records.jsonl",
        "firstdraw-archive/books/x/readings/01.csv", "firstdraw-archive/books/x/readings/-1.csv",
        "firstdraw-archive/files/ABC", "firstdraw-archive/books/%41/records.jsonl", "else.txt",
        "firstdraw-archive/books/..%2f/records.jsonl", "firstdraw-archive/books//records.jsonl"}) {
    write(entries_, name, "x");
    EXPECT_THAT(refusal(), HasSubstr("does not belong")) << name;
  }
}

TEST_F(HostileArchive, Duplicates) {
  write(entries_, below_root(kRecords), entries_.at(kRecords));
  EXPECT_THAT(refusal(), HasSubstr("twice"));
}

TEST_F(HostileArchive, MissingOrWrongManifest) {
  EXPECT_THAT(after([](Entries& e) { e.erase("manifest.json"); }, false), HasSubstr("no manifest"));
  EXPECT_THAT(after([](Entries& e) { e["manifest.json"] = "{"; }, false), HasSubstr("no JSON"));
  EXPECT_THAT(after([](Entries& e) { e["manifest.json"] = "{}"; }, false), HasSubstr("manifest.json"));
  EXPECT_THAT(after([](Entries& e) { e["manifest.json"] = std::string(100'000, '['); }, false),
              HasSubstr("too deeply"));
  const auto changed = [&](const std::string& old, const std::string& now) {
    return after([&](Entries& e) { replace(e["manifest.json"], old, now); }, false);
  };
  EXPECT_THAT(changed("\"version\": 1", "\"version\": 2"), HasSubstr("layout 2"));
  EXPECT_THAT(changed("\"firstdraw-archive\"", "\"another\""), HasSubstr("another format"));
  EXPECT_THAT(changed("\"records\": 5", "\"records\": 6"), HasSubstr("not what the manifest says"));
  EXPECT_THAT(changed("\"records\": 5", "\"records\": \"5\""), HasSubstr("manifest.json"));
  EXPECT_THAT(changed("\"records\": 5", "\"records\": 1e99"), HasSubstr("records is no whole number"));
  EXPECT_THAT(changed("\"records\": 5", "\"records\": 5.5"), HasSubstr("records is no whole number"));
  EXPECT_THAT(changed("\"samples\": 5", "\"samples\": 4"), HasSubstr("not what the manifest says"));
}

TEST_F(HostileArchive, FilesThatAreNotAsListed) {
  EXPECT_THAT(after([](Entries& e) { e.erase(kReadings); }, false), HasSubstr("is missing"));
  EXPECT_THAT(after([](Entries& e) { e[kReadings] += "1888480000000,1\n"; }, false),
              HasSubstr("not what the manifest says"));
  EXPECT_THAT(after([](Entries& e) { e["books/new/records.jsonl"]; }, false),
              HasSubstr("not in the manifest"));
  EXPECT_THAT(after([](Entries& e) { e["books/new/records.jsonl"]; }), HasSubstr("no book"));
  EXPECT_THAT(after([](Entries& e) { e.erase(kReadings); }), HasSubstr("not what the manifest says"));
}

TEST_F(HostileArchive, RecordsThatWereAltered) {
  const auto altered = [&](const std::string& old, const std::string& now) {
    return after([&](Entries& e) { replace(e[kRecords], old, now); });
  };
  EXPECT_THAT(altered("line 1", "line 9"), HasSubstr("records.jsonl line 2: it is not chained"));
  EXPECT_THAT(altered("line 5", "line 9"), HasSubstr("not what the manifest says")) << "the head's hash";
  EXPECT_THAT(altered("{\"", "{ \""), HasSubstr("line 1"));
  EXPECT_THAT(altered("\"number\":2", "\"number\":3"), HasSubstr("line 2: record 2 is missing"));
  EXPECT_THAT(altered("clinic / north", "hotel"), HasSubstr("another book"));
  EXPECT_THAT(altered("Test Person", ""), HasSubstr("line 1"));
  EXPECT_THAT(after([](Entries& e) { e[kRecords].pop_back(); }), HasSubstr("ends within a line"));
  EXPECT_THAT(after([](Entries& e) { e[kRecords].erase(0, e[kRecords].find('\n') + 1); }),
              HasSubstr("record 1 is missing"));
  EXPECT_THAT(after([](Entries& e) { e[kRecords] = std::string(1000, '\0').append("\n"); }),
              HasSubstr("line 1"));
}

TEST_F(HostileArchive, RecordsUnderOneEntry) {
  const auto altered = [&](const std::string& now) {
    return after([&](Entries& e) { replace(e[kRecords], "phone-5", now); });
  };
  EXPECT_THAT(altered("phone-4"), HasSubstr("line 5: the entry phone-4 is that of an earlier record too"));
  EXPECT_THAT(altered("phone 5"), HasSubstr("line 5: The entry of the record is not 1 to 64 letters"));
  EXPECT_THAT(altered(""), HasSubstr("line 5: The entry"));
}

TEST_F(HostileArchive, SeriesAndReadingsThatAreNone) {
  const auto altered = [&](const std::string& file, const std::string& old, const std::string& now) {
    return after([&](Entries& e) { replace(e[file], old, now); });
  };
  EXPECT_THAT(altered(kReadings, "at_ms,value", "value,at_ms"), HasSubstr("heading"));
  EXPECT_THAT(altered(kReadings, "1788480060000,", "1788480000000,"),
              HasSubstr("line 3: the times must rise"));
  for (const std::string value : {"nan", "inf", "-inf", "1e999", "0x10", "", " 1", "1,2", "one"})
    EXPECT_THAT(altered(kReadings, "1788480000000,50\n", "1788480000000," + value + "\n"),
                HasSubstr("line 2"))
        << value;
  EXPECT_THAT(altered(kReadings, "1788480000000,", "99999999999999999999,"), HasSubstr("line 2"));
  EXPECT_THAT(altered(kReadings, "1788480000000,50", std::string(10'000, '1')),
              HasSubstr("a line of more than"));
  EXPECT_THAT(altered(kSeries, "\n1,", "\n2,"), HasSubstr("ids"));
  EXPECT_THAT(altered(kSeries, "riser-a", "zzz"), HasSubstr("names must rise"));
  EXPECT_THAT(altered(kSeries, "riser-a", "a\"b"), HasSubstr("line 2"));
  EXPECT_THAT(altered(kSeries, "riser-a,", ","), HasSubstr("line 2"));
  EXPECT_THAT(after([](Entries& e) { e[kSeries].clear(); }), HasSubstr("no heading"));
}

TEST_F(HostileArchive, AttachmentsThatAreMissingAlteredOrStrange) {
  const auto file = entries_.lower_bound("files/");
  ASSERT_TRUE(file->first.starts_with("files/"));
  EXPECT_THAT(after([&](Entries& e) { e.erase(file->first); }), HasSubstr("attachment"));
  EXPECT_THAT(after([&](Entries& e) { e[file->first] += "x"; }), HasSubstr("SHA-256 of its name"));
  EXPECT_THAT(after([&](Entries& e) { e["files/" + sha256_hex("stray")] = "stray"; }),
              HasSubstr("no record"));
}

TEST_F(HostileArchive, WhatIsNoZipFile) {
  put(path("bad.zip"), "");
  EXPECT_NE(refusal(), "");
  put(path("bad.zip"), std::string(5000, 'x'));
  EXPECT_NE(refusal(), "");
  const TestPlace fresh(Dialect::sqlite);
  Store store = fresh.open();
  EXPECT_EQ(import_archive(store, path("none.zip")).error().kind, FailureKind::unreachable);
  EXPECT_FALSE(import_archive(store, place_.folder()));
}

/// Whether the archive passes; anything but a Failure of bad input is a fault.
bool passes(const fs::path& path) {
  try {
    check_archive(path);
    return true;
  } catch (const Stop& stop) {
    EXPECT_EQ(stop.failure.kind, FailureKind::bad_input) << stop.failure.what;
    return false;
  }
}

TEST_F(HostileArchive, CutAnywhere) {
  const std::string good = bytes_of(path("good.zip"));
  for (std::size_t size = 0; size < good.size(); size += 1 + size / 40) {
    put(path("bad.zip"), good.substr(0, size));
    EXPECT_FALSE(passes(path("bad.zip"))) << size << " of " << good.size() << " bytes";
  }
}

TEST_F(HostileArchive, AlteredAnywhereItIsRefusedOrStillSaysTheSame) {
  const std::string good = bytes_of(path("good.zip"));
  const Manifest manifest = check_archive(path("good.zip")).manifest;
  std::mt19937_64 random(8);
  int refused = 0;
  for (int round = 0; round < 250; ++round) {
    std::string bad = good;
    for (std::size_t i = 0, count = 1 + random() % 3; i < count; ++i)
      bad[random() % bad.size()] = static_cast<char>(random() % 256);
    put(path("bad.zip"), bad);
    if (passes(path("bad.zip")))
      EXPECT_EQ(check_archive(path("bad.zip")).manifest, manifest);
    else
      ++refused;
  }
  EXPECT_GT(refused, 150);
}

TEST_F(HostileArchive, WhatUnpacksOutOfProportionIsLeftPacked) {
  {
    ZipWriter zip(path("bad.zip"));
    add(zip, "x", std::string(3'000'000, '\0'));
    zip.finish();
  }
  ZipReader zip(path("bad.zip"), 1'000'000);
  ASSERT_TRUE(zip.next());
  EXPECT_THROW(drain(zip, "x", [](std::string_view) {}), Stop);
}

// --- the outside -----------------------------------------------------------------------------------------

TEST_F(HostileArchive, PythonReadsAGoodOneByTheDocumentAlone) {
  // Independent of the program: zipfile, json, csv and hashlib of Python's standard library.
  const std::string command = "/usr/bin/python3 " +
                              (fs::path(places::sources()) / "tests/reference/read_archive.py").string() +
                              " '" + path("good.zip").string() + "' 2>&1";
  FILE* pipe = ::popen(command.c_str(), "r");
  ASSERT_NE(pipe, nullptr);
  std::string said;
  std::array<char, 4096> buffer{};
  while (const std::size_t count = std::fread(buffer.data(), 1, buffer.size(), pipe))
    said.append(buffer.data(), count);
  EXPECT_EQ(::pclose(pipe), 0) << said;
  const auto head = store_.verify("clinic / north").value().head_hash;
  EXPECT_THAT(said, HasSubstr("3 books, 6 records, 1 files, 4 series, 3025 samples"));
  EXPECT_THAT(said, HasSubstr(head));
}

}  // namespace
}  // namespace firstdraw::store
