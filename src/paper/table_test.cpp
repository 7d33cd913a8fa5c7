// Columns and text: whatever is written, nothing stands outside its column.
#include "paper/table.hpp"

#include <gtest/gtest.h>

#include <numeric>

namespace firstdraw::paper {
namespace {

class Tables : public testing::Test {
 protected:
  void SetUp() override {
    auto created = Typesetter::create();
    ASSERT_TRUE(created) << created.error();
    type_.emplace(std::move(*created));
  }
  double total_mm(const Table& table, double width_mm) {
    const auto widths = column_widths_mm(*type_, table, width_mm);
    return std::accumulate(widths.begin(), widths.end(), 0.0);
  }
  std::optional<Typesetter> type_;
};

TEST_F(Tables, FillTheWidthWhenThereIsRoom) {
  const Table table{{{"Run", ""}, {"Length", "m", Anchor::end}}, {{Row::Kind::plain, {"R1", "12.5"}}}};
  EXPECT_NEAR(total_mm(table, 170), 170, 0.01);
}

TEST_F(Tables, NeverPassTheWidthHoweverLongTheWords) {
  Table table{{{"Run", ""}, {"Where", ""}, {"Length", "m", Anchor::end}}, {}};
  table.rows.push_back({Row::Kind::plain, {std::string(400, 'W'), std::string(900, 'M'), "12.5"}});
  EXPECT_LE(total_mm(table, 170), 170.01);
}

TEST_F(Tables, NumbersKeepTheirWidthWhenTextMustWrap) {
  Table table{{{"Note", ""}, {"Length", "m", Anchor::end}}, {}};
  std::string sentence;
  for (int word = 0; word < 200; ++word) sentence += "word ";
  table.rows.push_back({Row::Kind::plain, {sentence, "123456.5"}});
  const auto widths = column_widths_mm(*type_, table, 120);
  EXPECT_GE(widths[1], type_->width_mm("123456.5", {table.size_pt, 400}));
}

TEST_F(Tables, BrokenWordsStayInsideTheirColumn) {
  const std::string word(300, 'W');
  const TextBlock block{word, {8, 400}, 40};
  EXPECT_GT(type_->height_mm(block), 5 * type_->line_height_mm({8, 400}));
}

TEST_F(Tables, LinesAreLimitedWithAnEllipsis) {
  const std::string word(3000, 'W');
  EXPECT_LE(type_->height_mm({word, {8, 400}, 40, 3}), 3.01 * type_->line_height_mm({8, 400}));
}

TEST_F(Tables, FiguresAreTabular) {
  EXPECT_DOUBLE_EQ(type_->width_mm("111.1", {8, 400}), type_->width_mm("908.4", {8, 400}));
}

TEST(CleanText, KeepsLineEndsAndDropsControlCharacters) {
  EXPECT_EQ(clean_text("a\tb\nc\x01"), "a b\nc ");
  EXPECT_EQ(clean_text(std::string_view("\xff", 1)), "\uFFFD");
}

}  // namespace
}  // namespace firstdraw::paper
