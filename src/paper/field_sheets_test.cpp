// The sheets of what was recorded: nothing of a reading, a verdict, a signature or the chain is lost on
// paper.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "paper/evidence_page.hpp"
#include "paper/field_words.hpp"
#include "paper/sheets.hpp"
#include "paper/test_paper.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::paper {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr const char* head = "3f9a11c088de4b210123456789abcdef0123456789abcdef0123456789abcdef";

class FieldSheets : public testing::Test {
 protected:
  void SetUp() override {
    job_ = plan::small_job();
    plan_ = plan::make_plan(job_, {.samples = 0});
    drawing_ = draw_riser(job_, plan_.network);
    circuit_ = plan_.circuits.front().id;
  }

  std::string text_of(const std::string& name, auto set) {
    TestBook book(name);
    book.with([&](Book& pages) { set(pages, pack()); });
    return std::regex_replace(std::regex_replace(book.text(), std::regex("\u00A0"), " "), std::regex("\\s+"),
                              " ");
  }
  Pack pack() const {
    return {job_, plan_, drawing_, Show(job_), nullptr, {}, nullptr, field_ ? &*field_ : nullptr};
  }

  /// A failing insulation test, invented.
  void record() {
    prove::Reading reading;
    reading.what = prove::What::insulation_resistance;
    reading.value = 4e6;
    reading.circuit = circuit_;
    reading.stage = prove::Stage::insulated;
    reading.at = "2026-11-20T09:30";
    reading.who = "A. Tester";
    reading.instrument = {"insulation tester", "IT-7", "2027-03-01", std::nullopt};
    prove::Verdict verdict;
    verdict.grade = prove::Grade::fail;
    verdict.said = "4 MΩ where at least 20 MΩ is asked.";
    verdict.suspect = "A cut jacket.";
    verdict.to_do = "Halve the circuit and measure each part.";
    FieldBook field;
    field.readings = {reading};
    field.record_of = {2};
    field.verdicts = {verdict};
    field.due = {{prove::Stage::insulated, "insulated-insulation-resistance", "Insulation resistance",
                  circuit_, 0U, prove::Grade::fail},
                 {prove::Stage::energised, "energised-current", "Current", circuit_, {}, {}}};
    store::Record record;
    record.kind = store::RecordKind::test;
    record.number = 2;
    record.at = "2026-11-20T09:30:00-06:00";
    record.who = "A. Tester";
    record.corrects = 1;
    record.hash = head;
    field.records = {record};
    field.chain = {"clinic", 2, head, {}, 0};
    field_ = field;
  }

  job::Job job_;
  plan::Plan plan_;
  RiserDrawing drawing_;
  std::string circuit_;
  std::optional<FieldBook> field_;
};

TEST_F(FieldSheets, BlankWhereNothingIsRecorded) {
  EXPECT_THAT(text_of("blank", field_test_sheets), HasSubstr("Fill in one sheet per circuit"));
  const std::string summary = text_of("blank-summary", commissioning_summary);
  EXPECT_THAT(summary, HasSubstr("No reading is recorded yet"));
  EXPECT_THAT(summary, HasSubstr("Signature"));
  EXPECT_THAT(summary, Not(HasSubstr("Hash")));
}

TEST_F(FieldSheets, AReadingStandsOnItsCircuitsSheet) {
  record();
  const std::string text = text_of("filled", field_test_sheets);
  EXPECT_THAT(text, HasSubstr("4 MΩ"));
  EXPECT_THAT(text, HasSubstr("! FAIL"));
  EXPECT_THAT(text, HasSubstr("2026-11-20 09:30, A. Tester"));
  EXPECT_THAT(text, HasSubstr("A cut jacket."));
}

TEST_F(FieldSheets, TheSummaryCountsAndWarns) {
  record();
  const std::string text = text_of("summary", commissioning_summary);
  EXPECT_THAT(text, HasSubstr("1 of 2"));  // answered, of those due before hand-over
  EXPECT_THAT(text, HasSubstr("A reading failed"));
  EXPECT_THAT(text, HasSubstr("Halve the circuit"));
  EXPECT_THAT(text, HasSubstr("insulation tester, no. IT-7, calibrated until 2027-03-01"));
  EXPECT_THAT(text, HasSubstr("corrects 1"));
  EXPECT_THAT(text, HasSubstr("3f9a11c0 88de4b21"));
  EXPECT_THAT(text, Not(HasSubstr("do not verify")));
}

TEST_F(FieldSheets, ABrokenChainIsSaid) {
  record();
  field_->chain.breaks = {{1, "altered"}};
  EXPECT_THAT(text_of("broken", commissioning_summary), HasSubstr("record 1: altered"));
}

TEST_F(FieldSheets, TheMonthSaysWhatItIsNot) {
  watch::Evidence month;
  month.year = 2026;
  month.month = 2;
  month.zone = "America/Chicago";
  watch::PlaceEvidence place;
  place.what = "pipe of run R1";
  place.logged_h = 600;
  place.missing_h = 72;
  place.below_h = 12.5;
  place.least_limit_c = 55;
  place.most_limit_c = std::numeric_limits<double>::quiet_NaN();
  place.day_below_h.assign(28, 0.25);
  month.places = {place};
  month.actions = {{"2026-02-03T10:00:00-06:00", "B. Keeper", "riser flushed", 9}};
  TestBook book("month");
  ASSERT_TRUE(write_evidence(job_, month, book.pdf()));
  const std::string text = book.text();
  EXPECT_THAT(text, HasSubstr("February 2026"));
  EXPECT_THAT(text, HasSubstr("pipe of run R1"));
  EXPECT_THAT(text, HasSubstr("12.5"));
  EXPECT_THAT(text, HasSubstr("riser flushed"));
  EXPECT_THAT(text, HasSubstr("no proof that the water is free of Legionella"));
}

}  // namespace
}  // namespace firstdraw::paper
