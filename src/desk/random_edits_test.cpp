// What must be true of any edit. The seed is in the name of each case.
#include <gtest/gtest.h>

#include <random>

#include "desk/examples.hpp"
#include "desk/history.hpp"

namespace firstdraw::desk {
namespace {

using Random = std::mt19937;

std::size_t any(Random& random, std::size_t count) {
  return std::uniform_int_distribution<std::size_t>(0, count - 1)(random);
}

/// Text that is awkward to write: quotes, separators, line ends, marks of comments, letters beyond ASCII.
std::string any_text(Random& random) {
  static const std::vector<std::string> parts{"a",  "12",  "\"", "\"\"\"", ",", ";",   "#", "°F", "\n", "'",
                                              "\\", "[x]", "= ", "é",      " ", "3/4", "ñ", "\t", "{",  "}"};
  std::string text;
  for (std::size_t i = any(random, 7); i > 0; --i) text += parts[any(random, parts.size())];
  const auto first = text.find_first_not_of(" \t\n");
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(" \t\n") - first + 1);
}

/// A text that the column's kind can take.
std::string any_for(Random& random, const Column& column) {
  if (column.kind == "number" || column.kind == "integer") return std::to_string(any(random, 1000));
  if (column.kind == "flag") return any(random, 2) == 0 ? column.choices[0] : column.choices[1];
  if (column.measures == "number") return "1, 2.5, 3";
  if (column.kind == "list") return any(random, 2) == 0 ? "one" : "one, two, three";
  return any_text(random);
}

struct Spot {
  std::size_t table = 0, row = 0;
  Column column;
};

Spot any_spot(Random& random, const std::vector<Table>& tables) {
  while (true) {
    const std::size_t table = any(random, tables.size());
    if (tables[table].rows.empty()) continue;
    const auto& columns = tables[table].columns;
    return {table, any(random, tables[table].rows.size()), columns[any(random, columns.size())]};
  }
}

/// Both hold the same text in every cell; headings may have gained columns.
void expect_same(const std::vector<Table>& a, const std::vector<Table>& b) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t t = 0; t < a.size(); ++t) {
    ASSERT_EQ(a[t].rows.size(), b[t].rows.size()) << a[t].name;
    for (std::size_t r = 0; r < a[t].rows.size(); ++r)
      ASSERT_EQ(a[t].rows[r].cells, b[t].rows[r].cells) << a[t].name;
  }
}

/// Comment lines and the files they are in.
std::vector<std::pair<std::string, std::string>> comments(const JobText& text) {
  std::vector<std::pair<std::string, std::string>> lines;
  for (const auto& [name, whole] : text)
    for (std::size_t from = 0; from < whole.size();) {
      const auto end = std::min(whole.find('\n', from), whole.size());
      if (whole[from] == '#') lines.emplace_back(name, whole.substr(from, end - from));
      from = end + 1;
    }
  return lines;
}

class AnyEdit : public testing::TestWithParam<unsigned> {
 protected:
  Random random{GetParam()};
  JobText text = example(example_names()[GetParam() % 3]);
};
INSTANTIATE_TEST_SUITE_P(Seeds, AnyEdit, testing::Range(0U, 12U));

TEST_P(AnyEdit, ChangesItsCellAndNoOther) {
  const auto all_comments = comments(text);
  for (int i = 0; i < 40; ++i) {
    auto tables = tables_of(text);
    const auto [table, row, column] = any_spot(random, tables);
    const std::string to = any_for(random, column);
    const JobText after =
        made(text, {SetCell{tables[table].name, tables[table].rows[row].id, column.key, to}});
    auto& cells = tables[table].rows[row].cells;
    const bool list = column.kind == "list" && column.measures != "number";
    if (to.empty()) {
      cells.erase(column.key);
    } else if (!list) {
      cells[column.key] = to;
    }
    const auto now = tables_of(after);
    if (list) cells = now[table].rows[row].cells;
    ASSERT_NO_FATAL_FAILURE(expect_same(now, tables))
        << tables[table].name << " " << column.key << " = " << to;
    for (const auto& [name, line] : all_comments)
      ASSERT_NE(after.at(name).find(line), std::string::npos) << line << " of " << name;
    if (i % 5 == 0) text = after;
  }
}

Change any_change(Random& random, const std::vector<Table>& tables) {
  const Table& runs = table_in(tables, "runs");
  const Row& run = runs.rows[any(random, runs.rows.size())];
  const auto [table, row, column] = any_spot(random, tables);
  const Table& other = tables[table];
  const auto to = run.cells.find("to");  // an edit before may have emptied it
  switch (any(random, 7)) {
    case 0:
      return SplitRun{run.id, "1 ft"};
    case 1:
      return Rename{"runs", run.id, "N-" + std::to_string(any(random, 1000000))};
    case 2:
      return Rename{"node", to == run.cells.end() ? "" : to->second,
                    "J " + std::to_string(any(random, 1000000))};
    case 3:
      return RemoveRow{other.name, other.rows[row].id};
    case 4:
      return AddRow{
          other.name, {{other.columns[0].key, "x" + std::to_string(any(random, 1000000))}}, std::nullopt};
    case 5:
      return Paste{other.name, other.rows[row].id, column.key, any_text(random) + "\n" + any_text(random)};
    default:
      return SetCell{other.name, other.rows[row].id, column.key, any_for(random, column)};
  }
}

TEST_P(AnyEdit, IsTakenBackToTheByte) {
  History history;
  std::vector<JobText> states{text};
  while (states.size() < 60) {
    const auto after = apply(text, {any_change(random, tables_of(text))});
    if (!after || *after == text) continue;
    history.add({"edit", "test"}, text, *after);
    text = *after;
    states.push_back(text);
  }
  for (std::size_t i = states.size() - 1; i-- > 0; history.step_back()) {
    text = history.undone(text);
    ASSERT_TRUE(text == states[i]);
  }
  EXPECT_EQ(history.next_undo(), nullptr);
  for (std::size_t i = 1; i < states.size(); ++i, history.step_forward()) {
    text = history.redone(text);
    ASSERT_TRUE(text == states[i]);
  }
  EXPECT_EQ(history.next_redo(), nullptr);
}

}  // namespace
}  // namespace firstdraw::desk
