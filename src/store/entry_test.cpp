// What is sent twice under one entry is one record.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "store/archive.hpp"
#include "store/schema.hpp"
#include "store/session.hpp"
#include "store/sha256.hpp"
#include "store/test_child.hpp"

namespace firstdraw::store {
namespace {

using ::testing::HasSubstr;

class EntryOn : public OnBothDatabases {};
INSTANTIATE_TEST_SUITE_P(Databases, EntryOn, both_databases, database_name);

const std::string uuid = "0b7c9d1e-4f2a-4c3b-9a8d-6e5f4a3b2c1d";

Draft sent(const std::string& text, const std::string& entry = uuid) {
  Draft draft = note(text);
  draft.entry = entry;
  return draft;
}

TEST_P(EntryOn, SentAgainItIsTheRecordThatIsThere) {
  Store store = place().open();
  store.append("job", note("before")).value();
  Draft draft = sent("once");
  draft.corrects = 1;
  draft.instruments = {{"clamp", "SN-7", ""}};
  draft.attachments = {store.put_file("plate.jpg", "image/jpeg", "picture").value()};
  const Record first = store.append("job", draft).value();
  EXPECT_EQ(first.number, 2);
  EXPECT_EQ(first.entry, uuid);
  store.append("job", note("after")).value();
  draft.body = R"( { "text" : "once" } )";  // the same, written otherwise
  EXPECT_EQ(store.append("job", draft).value(), first);
  EXPECT_EQ(place().open().append("job", draft).value(), first);
  EXPECT_EQ(store.records("job")->size(), 3U);
  EXPECT_EQ(store.records("job")->at(1), first);
  EXPECT_TRUE(store.verify("job")->whole());
}

TEST_P(EntryOn, IsPartOfWhatIsHashedOnlyWhereThereIsOne) {
  Store store = place().open();
  const Record with = store.append("job", sent("x")).value();
  EXPECT_THAT(canonical_text(with),
              HasSubstr(R"("corrects":null,"entry":")" + uuid + R"(","instruments":[])"));
  EXPECT_EQ(with.hash, sha256_hex(canonical_text(with)));
  EXPECT_EQ(read_canonical(canonical_text(with)).value(), with);
  const Record without = store.append("job", note("x")).value();
  EXPECT_EQ(canonical_text(without).find("entry"), std::string::npos);
  *place().forger() << "UPDATE records SET entry = 'other' WHERE number = 1";
  EXPECT_EQ(store.verify("job")->breaks.at(0).what, "altered");
  *place().forger() << "UPDATE records SET entry = NULL WHERE number = 1";
  EXPECT_EQ(store.verify("job")->breaks.at(0).what, "altered");
}

TEST_P(EntryOn, WithOtherContentItIsRefused) {
  Store store = place().open();
  const Attachment file = store.put_file("a.txt", "text/plain", "a").value();
  store.append("job", note("one")).value();
  const Record first = store.append("job", sent("two")).value();
  const auto refused = [&](auto change) {
    Draft draft = sent("two");
    change(draft);
    const auto again = store.append("job", draft);
    ASSERT_FALSE(again);
    EXPECT_EQ(again.error().kind, FailureKind::bad_input);
    EXPECT_EQ(again.error().what,
              "The entry " + uuid + " is already used for record 2 of \"job\" with other content.");
  };
  refused([](Draft& d) { d.kind = RecordKind::action; });
  refused([](Draft& d) { d.who = "Somebody Else"; });
  refused([](Draft& d) { d.at = "2026-11-29T20:05:00Z"; });  // the same moment, to another letter
  refused([](Draft& d) { d.body = R"({"text":"three"})"; });
  refused([&](Draft& d) { d.attachments = {file}; });
  refused([](Draft& d) { d.corrects = 1; });
  refused([](Draft& d) { d.instruments = {{"clamp", "SN-7", ""}}; });
  EXPECT_EQ(store.records("job")->size(), 2U);
  EXPECT_EQ(store.append("job", sent("two")).value(), first);
}

TEST_P(EntryOn, BooksAndEntriesAreApart) {
  Store store = place().open();
  EXPECT_EQ(store.append("a", sent("x"))->number, 1);
  EXPECT_EQ(store.append("b", sent("x"))->number, 1);
  EXPECT_EQ(store.append("a", sent("x", "A"))->number, 2);
  EXPECT_EQ(store.append("a", sent("x", "a"))->number, 3) << "capitals are other letters";
  EXPECT_EQ(store.append("a", note("x"))->number, 4);
  EXPECT_EQ(store.append("a", note("x"))->number, 5) << "without an entry each is a record";
}

TEST_P(EntryOn, IsSixtyFourPlainLettersAtMost) {
  Store store = place().open();
  EXPECT_TRUE(store.append("job", sent("x", std::string(64, 'Z'))));
  EXPECT_TRUE(store.append("job", sent("x", "_-09azAZ")));
  for (const std::string& entry : {std::string(), std::string(65, 'a'), std::string("a b"), std::string("é"),
                                   std::string("a'b"), std::string("a\0b", 3), std::string("a:b")}) {
    const auto record = store.append("job", sent("x", entry));
    ASSERT_FALSE(record) << entry;
    EXPECT_EQ(record.error().what, "The entry of the record is not 1 to 64 letters, digits, - and _.");
  }
  EXPECT_EQ(store.records("job")->size(), 2U);
}

TEST_P(EntryOn, TheDatabaseItselfKeepsItOnceInABook) {
  Store store = place().open();
  store.append("job", sent("x")).value();
  EXPECT_THROW(*place().behind() << "INSERT INTO records SELECT job, 2, kind, at, who, instruments, body, "
                                    "attachments, corrects, stored_at, hash, hash, entry FROM records",
               soci::soci_error);
}

/// Threads with stores of their own, each sending the same entries in the same order as fast as it can.
TEST_P(EntryOn, SentByManyAtOnceItIsOneRecord) {
  constexpr int writers = 4, entries = 25;
  place().open();
  std::vector<std::vector<Record>> got(writers);
  std::vector<std::thread> threads;
  for (auto& records : got)
    threads.emplace_back([&] {
      Store store = place().open();
      for (int i = 0; i < entries; ++i)
        if (const auto record = store.append("job", sent("x", "e" + std::to_string(i))))
          records.push_back(*record);
    });
  for (std::thread& thread : threads) thread.join();
  const Store store = place().open();
  for (const auto& records : got) EXPECT_THAT(records, ::testing::ContainerEq(store.records("job").value()));
  EXPECT_EQ(store.records("job")->size(), static_cast<std::size_t>(entries));
  EXPECT_TRUE(store.verify("job")->whole());
}

TEST_P(EntryOn, TravelsInAnArchive) {
  Store store = place().open();
  const Record first = store.append("job", sent("x")).value();
  store.append("job", note("y")).value();
  const auto file = place().folder() / "a.zip";
  ASSERT_TRUE(export_archive(store, file));
  const TestPlace other_place(GetParam());
  Store other = other_place.open();
  ASSERT_TRUE(import_archive(other, file));
  EXPECT_EQ(other.append("job", sent("x")).value(), first);
  EXPECT_EQ(other.records("job").value(), store.records("job").value());
  ASSERT_TRUE(export_archive(other, other_place.folder() / "b.zip"));
  const std::string same = "cmp '" + file.string() + "' '" + (other_place.folder() / "b.zip").string() + "'";
  EXPECT_EQ(std::system(same.c_str()), 0);
}

// --- books of before -------------------------------------------------------------------------------------

/// Lines as the program wrote them before there were entries; their hashes by GNU sha256sum.
struct Line {
  const char* text;
  const char* hash;
};
constexpr Line one{
    R"({"at":"2026-11-29T14:05:00-06:00","attachments":[],"body":{"text":"one"},"corrects":null,)"
    R"("instruments":[],"job":"job","kind":"note","number":1,)"
    R"("previous_hash":"0000000000000000000000000000000000000000000000000000000000000000",)"
    R"("stored_at":"2026-11-29T20:05:00.000000Z","who":"Test Person"})",
    "3e0aa0abcd8b643e9ce086e42b78805cbcaa8bd2fc03fcaa0a33a7e14b52c7bd"};
constexpr Line two{R"({"at":"2026-11-29T14:06:00-06:00","attachments":[],"body":{"text":"two"},"corrects":1,)"
                   R"("instruments":[],"job":"job","kind":"note","number":2,)"
                   R"("previous_hash":"3e0aa0abcd8b643e9ce086e42b78805cbcaa8bd2fc03fcaa0a33a7e14b52c7bd",)"
                   R"("stored_at":"2026-11-29T20:06:00.000000Z","who":"Test Person"})",
                   "5833c5848f00986058e8cc3cd8dea2decd1388bdedb83dcce5729748daf1c29f"};

/// A store of the second step, with both lines in it.
void make_store_of_before(const Address& address) {
  auto sql = side_of(address.dialect).connect(address, true);
  migrate(*sql, address, {schema_records(address.dialect), schema_series(address.dialect)});
  for (const Line& line : {one, two}) {
    const Record record = read_canonical(line.text).value();
    const long long number = record.number, corrects = record.corrects.value_or(0);
    soci::indicator given = record.corrects ? soci::i_ok : soci::i_null;
    const std::string hash = line.hash;
    *sql << "INSERT INTO records (job, number, kind, at, who, instruments, body, attachments, corrects, "
            "stored_at, previous_hash, hash) VALUES ('job', :number, 'note', :at, :who, '[]', :body, '[]', "
            ":corrects, :stored_at, :previous_hash, :hash)",
        soci::use(number, "number"), soci::use(record.at, "at"), soci::use(record.who, "who"),
        soci::use(record.body, "body"), soci::use(corrects, given, "corrects"),
        soci::use(record.stored_at, "stored_at"), soci::use(record.previous_hash, "previous_hash"),
        soci::use(hash, "hash");
  }
}

TEST_P(EntryOn, ABookOfBeforeStillVerifiesAndGoesOn) {
  make_store_of_before(parse_address(place().where()).value());
  Store store = place().open();
  const auto found = store.verify("job", two.hash).value();
  EXPECT_TRUE(found.whole());
  EXPECT_EQ(found.head_found_at, 2);
  const auto records = store.records("job").value();
  EXPECT_EQ(canonical_text(records.at(0)), one.text);
  EXPECT_EQ(canonical_text(records.at(1)), two.text);
  EXPECT_EQ(store.append("job", sent("x"))->number, 3);
  EXPECT_EQ(store.append("job", sent("x"))->number, 3);
  EXPECT_TRUE(store.verify("job", two.hash)->whole());
}

TEST(Entry, LinesOfBeforeKeepTheirHash) {
  for (const Line& line : {one, two}) {
    EXPECT_EQ(sha256_hex(line.text), line.hash);
    const Record record = read_canonical(line.text).value();
    EXPECT_EQ(record.entry, std::nullopt);
    EXPECT_EQ(hash_of(record), line.hash);
  }
}

}  // namespace
}  // namespace firstdraw::store
