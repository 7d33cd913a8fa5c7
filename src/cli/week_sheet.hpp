// What the sections of a week's answer share: the answer, and how numbers are written for their job.
#pragma once

#include <string>

#include "cli/page.hpp"
#include "cli/week_text.hpp"
#include "units/quantity.hpp"

namespace firstdraw::cli {

struct WeekSheet {
  const job::Job& job;
  const settings::WeekAnswer& week;
  const WeekView& view;

  std::string show(double value_si, units::Kind kind) const { return units::show(value_si, kind, job.units); }
  Cell cell(double value_si, units::Kind kind) const {
    return {units::show_number(value_si, kind, job.units)};
  }
  std::string unit(units::Kind kind) const { return std::string(units::display_unit(kind, job.units)); }
  /// Hours, as the heading says.
  Cell hours(double time_s) const;
  /// Without the currency: whole units of it, or cents where a year costs less than a hundred.
  std::string amount(double money) const;
  std::string money(double money) const;
  bool many_seasons() const { return week.seasons.size() > 1; }
  /// Heading of a part that holds for one season.
  std::string heading(const std::string& what, const std::string& season) const;
  /// How many of `size` items to list.
  std::size_t listed(std::size_t size) const;
};

/// "93", "–" for what is not known.
std::string week_percent(double frac);
/// "-12", "+3", "0".
std::string week_signed_percent(double frac);
/// "2.5"; "–" for what is not known; "never" for infinity.
std::string week_decimals(double value, int places);

// The sections, by file.
void add_week_key(Page& page, const WeekSheet& sheet);       // week_text.cpp
void add_week_settings(Page& page, const WeekSheet& sheet);  // week_settings_text.cpp
void add_week_asked(Page& page, const WeekSheet& sheet);     // week_proof_text.cpp
void add_week_why_not(Page& page, const WeekSheet& sheet);   // week_money_text.cpp
void add_week_improve(Page& page, const WeekSheet& sheet);   // week_money_text.cpp
void add_week_alarms(Page& page, const WeekSheet& sheet);    // week_watch_text.cpp
void add_week_readings(Page& page, const WeekSheet& sheet);  // week_watch_text.cpp
void add_week_wrong(Page& page, const WeekSheet& sheet);     // week_watch_text.cpp

}  // namespace firstdraw::cli
