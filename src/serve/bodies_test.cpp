#include "serve/bodies.hpp"

#include <gtest/gtest.h>

namespace firstdraw::serve {
namespace {

template <class T>
std::string first_problem(const Read<T>& read) {
  return read ? "none" : read.error().front().field + ": " + read.error().front().message;
}

TEST(Bodies, an_edit_keeps_the_order_of_its_changes) {
  const auto edit = read_edit(R"({"base": 7, "label": "split", "changes": [
    {"do": "set", "table": "runs", "row": "R-1", "column": "size", "to": "1", "was": "3/4"},
    {"do": "split-run", "run": "R-1", "at": "10 ft"},
    {"do": "add", "table": "outlets", "cells": {"id": "O-9"}}]})");
  ASSERT_TRUE(edit) << first_problem(edit);
  EXPECT_EQ(edit->base, 7);
  ASSERT_EQ(edit->changes.size(), 3U);
  EXPECT_EQ(std::get<desk::SetCell>(edit->changes[0]).was, "3/4");
  EXPECT_EQ(std::get<desk::SplitRun>(edit->changes[1]).at, "10 ft");
  EXPECT_EQ(std::get<desk::AddRow>(edit->changes[2]).cells.at("id"), "O-9");
}

TEST(Bodies, every_slip_is_named_with_its_field) {
  const auto edit =
      read_edit(R"({"base": -1, "changes": [{"do": "sett"}, {"do": "remove", "row": 3, "tabel": "x"}]})");
  ASSERT_FALSE(edit);
  std::string all;
  for (const job::Diagnostic& problem : edit.error()) all += problem.text() + "\n";
  for (const char* part :
       {"base", "label", "changes[0].do", "did you mean set?", "changes[1].table: is missing",
        "changes[1].row: text was expected", "changes[1].tabel", "did you mean table?"})
    EXPECT_NE(all.find(part), std::string::npos) << part << "\n" << all;
}

TEST(Bodies, what_is_no_object_is_refused) {
  for (const char* text : {"", "[]", "7", "{", "{\"a\":", "nul", "\xff\xfe", "{} {}"})
    EXPECT_FALSE(read_pair(text)) << text;
  EXPECT_FALSE(read_edit(std::string(200'000, '[')));
  EXPECT_FALSE(read_edit("{\"base\": 99999999999999999999, \"label\": \"\", \"changes\": []}"));
}

TEST(Bodies, ids_of_jobs_cannot_lead_anywhere) {
  for (const char* id : {"", "..", "a/b", "a\\\\b", ".x", "a b", "a\\u0000b"})
    EXPECT_FALSE(read_new_job(std::string(R"({"start": "blank", "id": ")") + id + "\"}")) << id;
  EXPECT_TRUE(read_new_job(R"({"start": "blank", "id": "mill-lane_2"})"));
}

TEST(Bodies, records_have_what_their_kind_needs) {
  const std::string common = R"("entry": "e1", "who": "Ada Example", "at": "2026-11-29T14:05:00-06:00")";
  EXPECT_TRUE(read_new_record("{" + common + R"(, "kind": "note", "note": "seen"})"));
  EXPECT_FALSE(read_new_record("{" + common + R"(, "kind": "note"})"));
  EXPECT_FALSE(read_new_record("{" + common + R"(, "kind": "test"})"));
  EXPECT_FALSE(read_new_record("{" + common + R"(, "kind": "photo", "note": "splice"})"));
  EXPECT_FALSE(read_new_record("{" + common + R"(, "kind": "sign-off", "role": "installer"})"));
  EXPECT_FALSE(read_new_record("{" + common + R"(, "kind": "note", "note": "x", "role": "installer"})"));
  EXPECT_FALSE(
      read_new_record(R"({"entry": "e1", "who": " ", "at": "yesterday", "kind": "note", "note": "x"})"));
}

TEST(Bodies, a_schedule_says_days_and_times) {
  const auto asked = read_try_schedule(R"({"group": "main", "periods": [
    {"days": ["mon", "sun"], "start": "22:00", "end": "05:30", "hold": "temperature", "temperature_c": 50}]})");
  ASSERT_TRUE(asked) << first_problem(asked);
  EXPECT_EQ(asked->periods[0].weekdays, 0b1000001);
  EXPECT_EQ(asked->periods[0].end_s, 19800);
  EXPECT_FALSE(read_try_schedule(
      R"({"group": "main", "periods": [{"days": ["mo"], "start": "25:00", "end": "1", "hold": "warm"}]})"));
}

}  // namespace
}  // namespace firstdraw::serve
