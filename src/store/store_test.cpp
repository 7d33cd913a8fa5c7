#include "store/store.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>

#include "places.hpp"
#include "store/schema.hpp"
#include "store/session.hpp"
#include "store/sha256.hpp"
#include "store/test_place.hpp"

namespace firstdraw::store {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

class RecordsOn : public OnBothDatabases {};
INSTANTIATE_TEST_SUITE_P(Databases, RecordsOn, both_databases, database_name);

Draft full_draft(Store& store) {
  Draft draft = note("x");
  draft.entry = "phone-7_0042";
  draft.kind = RecordKind::test;
  draft.who = "Jördis \"J.\" O'Test 😀";
  draft.instruments = {{"insulation tester", "SN-0042", "2027-03-01"}, {"clamp", "", ""}};
  draft.body =
      R"({ "reading": 4.20, "list": [1E5, -0, null, true, "a\u0000\n/"], "a": {"b": 123456789012345678901} })";
  draft.attachments = {store.put_file("plate.jpg", "image/jpeg", std::string("\0\xff\x01'\"\\", 6)).value(),
                       store.put_file("folder/empty.txt", "text/plain", "").value()};
  return draft;
}

TEST_P(RecordsOn, AppendGivesBackWhatIsStored) {
  Store store = place().open();
  const Record first = store.append("job", note("one")).value();
  const Record second = store.append("job", full_draft(store)).value();
  EXPECT_EQ(first.number, 1);
  EXPECT_EQ(first.previous_hash, no_hash);
  EXPECT_EQ(second.number, 2);
  EXPECT_EQ(second.previous_hash, first.hash);
  EXPECT_EQ(second.hash, sha256_hex(canonical_text(second)));
  EXPECT_THAT(store.records("job").value(), ElementsAre(first, second));
  EXPECT_THAT(place().open().records("job").value(), ElementsAre(first, second));
}

TEST_P(RecordsOn, TheCanonicalTextIsTheSameAfterARoundTrip) {
  Store store = place().open();
  const Record stored = store.append("book \"of\" Ünits", full_draft(store)).value();
  EXPECT_EQ(stored.body,
            R"({"a":{"b":123456789012345678901},"list":[1E5,0,null,true,"a\u0000\n/"],"reading":4.20})");
  const Record read = store.records(stored.job).value().at(0);
  EXPECT_EQ(canonical_text(read), canonical_text(stored));
  const auto again = read_canonical(canonical_text(stored));
  ASSERT_TRUE(again) << again.error();
  EXPECT_EQ(*again, stored);
}

TEST_P(RecordsOn, BooksAreApart) {
  Store store = place().open();
  EXPECT_THAT(store.jobs().value(), IsEmpty());
  EXPECT_THAT(store.records("job").value(), IsEmpty());
  store.append("b", note("one")).value();
  EXPECT_EQ(store.append("a", note("one"))->number, 1);
  EXPECT_EQ(store.append("Z", note("one"))->number, 1);
  EXPECT_THAT(store.jobs().value(), ElementsAre("Z", "a", "b"));
}

TEST_P(RecordsOn, ACorrectionTakesThePlaceOfOneRecordOnce) {
  Store store = place().open();
  store.append("job", note("wrong")).value();
  Draft correction = note("right");
  correction.corrects = 1;
  EXPECT_EQ(store.append("job", correction)->corrects, 1);
  const auto twice = store.append("job", correction);
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().kind, FailureKind::bad_input);
  EXPECT_EQ(twice.error().what, "Record 1 of \"job\" is corrected by record 2 already.");
  EXPECT_EQ(twice.error().remedy, "Correct record 2 instead.");
  correction.corrects = 3;
  EXPECT_EQ(store.append("job", correction).error().what, "\"job\" has no record 3 to correct.");
  EXPECT_FALSE(store.append("other", correction));
  Wanted standing;
  standing.with_corrected = false;
  EXPECT_EQ(store.records("job", standing)->size(), 1U);
  EXPECT_EQ(store.records("job")->size(), 2U);
}

TEST_P(RecordsOn, RecordsAreWantedByKindAndNumber) {
  Store store = place().open();
  for (const RecordKind kind : {RecordKind::note, RecordKind::photo, RecordKind::note}) {
    Draft draft = note("x");
    draft.kind = kind;
    store.append("job", draft).value();
  }
  EXPECT_EQ(store.records("job", {RecordKind::note, 2, true})->size(), 1U);
  EXPECT_EQ(store.records("job", {RecordKind::photo, 1, true})->at(0).number, 2);
  EXPECT_THAT(store.records("job", {std::nullopt, 4, true}).value(), IsEmpty());
}

TEST_P(RecordsOn, NothingIsWrittenWhenSomethingIsWrong) {
  Store store = place().open();
  const auto refused = [&](auto change) {
    Draft draft = note("x");
    change(draft);
    const auto record = store.append("job", draft);
    EXPECT_FALSE(record);
    EXPECT_EQ(record.error().kind, FailureKind::bad_input);
    EXPECT_THAT(record.error().remedy, Not(IsEmpty()));
    return record.error().what;
  };
  EXPECT_EQ(refused([](Draft& d) { d.at = "2026-11-29T14:05:00"; }),
            "\"2026-11-29T14:05:00\" is no time with its offset.");
  EXPECT_THAT(refused([](Draft& d) { d.who = "  "; }), HasSubstr("no name"));
  EXPECT_THAT(refused([](Draft& d) { d.who = "a\nb"; }), HasSubstr("control"));
  EXPECT_THAT(refused([](Draft& d) { d.who = "\xff"; }), HasSubstr("UTF-8"));
  EXPECT_THAT(refused([](Draft& d) { d.body = "[]"; }), HasSubstr("no JSON object"));
  EXPECT_THAT(refused([](Draft& d) { d.kind = static_cast<RecordKind>(99); }), HasSubstr("kind"));
  EXPECT_THAT(refused([](Draft& d) { d.instruments = {{"x", "", "soon"}}; }), HasSubstr("calibration"));
  EXPECT_THAT(refused([](Draft& d) { d.attachments = {{"x", "text/plain", "12", 0}}; }),
              HasSubstr("SHA-256"));
  EXPECT_THAT(refused([](Draft& d) { d.attachments = {{"x", "text/plain", sha256_hex("x"), 1}}; }),
              HasSubstr("is not in the store"));
  EXPECT_FALSE(store.append("", note("x")));
  EXPECT_THAT(store.records("job").value(), IsEmpty());
}

TEST_P(RecordsOn, FilesAreKnownByTheirContent) {
  Store store = place().open();
  std::string bytes(3'000'000, '\0');
  for (std::size_t i = 0; i < bytes.size(); ++i) bytes[i] = static_cast<char>(i * i % 251);
  const Attachment first = store.put_file("a", "image/png", bytes).value();
  EXPECT_EQ(store.put_file("a", "image/png", bytes).value(), first);
  EXPECT_EQ(first.sha256, sha256_hex(bytes));
  EXPECT_EQ(first.bytes, bytes.size());
  EXPECT_EQ(store.file(first.sha256).value(), bytes);
  EXPECT_EQ(store.file(sha256_hex("none")).error().kind, FailureKind::bad_input);
  EXPECT_FALSE(store.put_file("", "image/png", "x"));
}

TEST_P(RecordsOn, TheDatabaseItselfRefusesChanges) {
  Store store = place().open();
  store.append("job", full_draft(store)).value();
  for (const char* change : {"UPDATE records SET who = 'x'", "DELETE FROM records",
                             "UPDATE files SET size = 0", "DELETE FROM files"})
    EXPECT_THROW(*place().behind() << change, soci::soci_error) << change;
  if (GetParam() == Dialect::postgresql) {
    EXPECT_THROW(*place().behind() << "TRUNCATE records", soci::soci_error);
  }
  EXPECT_TRUE(store.verify("job")->whole());
}

TEST_P(RecordsOn, ANewerSchemaIsLeftAlone) {
  place().open();
  *place().behind() << "INSERT INTO schema_steps VALUES (99, 'later', '2030')";
  const auto opened = Store::open(place().where());
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().kind, FailureKind::newer);
  EXPECT_THAT(opened.error().what, HasSubstr("at step 99"));
}

TEST_P(RecordsOn, AStepThatFailsLeavesTheStoreAsItWas) {
  Store store = place().open();
  const Record record = store.append("job", note("x")).value();
  const Address address = parse_address(place().where()).value();
  auto sql = side_of(address.dialect).connect(address, false);
  auto steps = schema_steps(address.dialect);
  steps.push_back({"half", {"CREATE TABLE extra (a integer)", "CREATE TABLE records (a integer)"}});
  EXPECT_THROW(migrate(*sql, address, steps), soci::soci_error);
  EXPECT_FALSE(side_of(address.dialect).has_table(*sql, "extra"));
  steps.back().statements.pop_back();
  migrate(*sql, address, steps);
  EXPECT_TRUE(side_of(address.dialect).has_table(*sql, "extra"));
  EXPECT_EQ(schema_version(*sql, address.dialect), static_cast<int>(steps.size()));
  EXPECT_EQ(Store::open(place().where()).error().kind, FailureKind::newer);
}

TEST_P(RecordsOn, AStoreOfTheFirstStepIsBroughtUpToDate) {
  const Address address = parse_address(place().where()).value();
  {
    auto sql = side_of(address.dialect).connect(address, true);
    migrate(*sql, address, {schema_records(address.dialect)});
    EXPECT_EQ(schema_version(*sql, address.dialect), 1);
  }
  Store store = place().open();
  EXPECT_EQ(store.append("job", note("x"))->number, 1);
}

/// The chain recomputed by a program of another language that knows only the table and docs/records.md.
TEST(Chain, IsTheSameForAnIndependentProgram) {
  const TestPlace place(Dialect::sqlite);
  std::string head;
  {
    Store store = place.open();
    store.append("job", note("one")).value();
    head = store.append("job", full_draft(store))->hash;
  }
  const std::string command = "/usr/bin/python3 '" + places::sources() +
                              "/tests/reference/records_chain.py' '" + place.where() + "' job " + head +
                              " 2>&1";
  std::FILE* pipe = popen(command.c_str(), "r");
  ASSERT_NE(pipe, nullptr);
  std::string said(1000, '\0');
  said.resize(std::fread(said.data(), 1, said.size(), pipe));
  EXPECT_EQ(pclose(pipe), 0) << said;
  EXPECT_EQ(said, "2 records, 2 files, whole, head " + head + "\n");
}

}  // namespace
}  // namespace firstdraw::store
