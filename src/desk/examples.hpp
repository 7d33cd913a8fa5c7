// The examples as text, for tests.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "desk/change.hpp"
#include "desk/sheet.hpp"
#include "places.hpp"

namespace firstdraw::desk {

inline const std::vector<std::string>& example_names() {
  static const std::vector<std::string> names{"clinic", "hotel", "care-home", "measured-pipe"};
  return names;
}

inline JobText example(const std::string& name) {
  const auto text = load(std::filesystem::path(places::sources()) / "examples" / name);
  EXPECT_TRUE(text) << name;
  return text.value_or(JobText{});
}

inline std::string texts_of(const std::vector<job::Diagnostic>& problems) {
  std::string all;
  for (const auto& problem : problems) all += problem.text() + "\n";
  return all;
}

/// The job; the test fails when it does not read.
inline job::Job job_of(const JobText& text) {
  auto job = read(text, "job");
  EXPECT_TRUE(job) << texts_of(job.error());
  return job.value_or(job::Job{});
}

/// The text after the changes; the test fails when they are refused.
inline JobText made(const JobText& text, const std::vector<Change>& changes) {
  auto after = apply(text, changes);
  if (after) return *after;
  ADD_FAILURE() << texts_of(after.error().problems) << after.error().conflicts.size() << " conflicts";
  return text;
}

/// What is said against the changes; the test fails when nothing is.
inline std::string refusal(const JobText& text, const std::vector<Change>& changes) {
  const auto after = apply(text, changes);
  EXPECT_FALSE(after);
  return after ? "" : texts_of(after.error().problems);
}

inline const Table& table_in(const std::vector<Table>& tables, const std::string& name) {
  return *std::ranges::find(tables, name, &Table::name);
}

inline std::string cell_of(const JobText& text, const std::string& table, const std::string& row,
                           const std::string& column) {
  const auto tables = tables_of(text);
  for (const Row& candidate : table_in(tables, table).rows)
    if (candidate.id == row) return candidate.cells.contains(column) ? candidate.cells.at(column) : "";
  ADD_FAILURE() << "no row " << row << " in " << table;
  return {};
}

/// `text` with the first `old` of a file replaced, as one would by hand.
inline JobText by_hand(JobText text, const std::string& file, const std::string& old,
                       const std::string& now) {
  const auto at = text[file].find(old);
  EXPECT_NE(at, std::string::npos) << old << " is not in " << file;
  if (at != std::string::npos) text[file].replace(at, old.size(), now);
  return text;
}

}  // namespace firstdraw::desk
