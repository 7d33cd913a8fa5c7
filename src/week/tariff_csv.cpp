#include "week/tariff_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "job/csv_reader.hpp"
#include "tables/csv.hpp"
#include "units/clock.hpp"
#include "week/months.hpp"

namespace firstdraw::week {
namespace {

constexpr std::uint8_t weekday_bits = 0x1f, weekend_bits = 0x60;
constexpr int nobody = -1;
constexpr double no_end = std::numeric_limits<double>::infinity();

/// The cells of a row as text.
struct Cells {
  std::string charge, name, days, from, to, months, up_to, price, demand_price;
  std::optional<double> ratchet_frac;

  bool no_hours() const { return days.empty() && from.empty() && to.empty(); }
};

/// When a row holds.
struct Hours {
  bool weekday = false, weekend = false;
  std::vector<std::size_t> hours;
  MonthSet months{};
};

std::vector<job::Key> keys() {
  std::vector<job::Key> all;
  for (const char* name :
       {"charge", "name", "days", "from", "to", "months", "up_to", "price", "demand_price"}) {
    all.push_back({name, false, std::string_view(name) == "price", {}});
  }
  all.push_back({"ratchet", true, false, units::Kind::fraction});
  return all;
}

Grid empty_grid() {
  Grid grid{};
  for (auto& month : grid) month.fill(nobody);
  return grid;
}

class TableReader {
 public:
  TableReader(const tables::CsvText& csv, std::string_view file, const TariffAsked& asked,
              job::Context& context)
      : reader_(csv, file, "row", keys(), context), context_(context), file_(file), asked_(asked) {
    tariff_.energy.weekday = tariff_.energy.weekend = empty_grid();
    flat_.period_of_month.fill(nobody);
  }

  Tariff read() {
    while (reader_.next()) {
      const Cells row = cells();
      const std::string charge = row.charge.empty() ? "energy" : row.charge;
      if (charge == "energy") {
        read_energy(row);
      } else if (charge == "flat_demand") {
        read_flat(row);
      } else {
        read_lump(charge, row);
      }
    }
    finish();
    return std::move(tariff_);
  }

 private:
  Cells cells() {
    Cells row;
    for (auto* cell : {&row.charge, &row.name, &row.days, &row.from, &row.to, &row.months, &row.up_to,
                       &row.price, &row.demand_price})
      reader_.text("", *cell, job::blank);
    reader_.optional_quantity("", row.ratchet_frac, units::Kind::fraction, job::range::fraction);
    return row;
  }
  void problem(std::string_view key, std::string message, std::string hint = {}) {
    reader_.row_problem(key, std::move(message), std::move(hint));
  }
  void whole_file(std::string field, std::string message, std::string hint = {}) {
    context_.problem({file_, 0, 0}, std::move(field), std::move(message), std::move(hint));
  }
  double number(std::string_view key, const std::string& text, const job::Range& range, double otherwise) {
    const auto value = job::read_number(text, range);
    if (value) return *value;
    problem(key, value.error());
    return otherwise;
  }
  double price(const Cells& row, const job::Range& range) {
    if (!row.price.empty()) return number("price", row.price, range, 0);
    problem("price", "every row needs a price", "write 0 where nothing is charged");
    return 0;
  }
  void must_be_blank(std::string_view key, bool is_blank, std::string_view charge) {
    if (!is_blank) problem(key, fmt::format("a row of {} takes none", charge), "leave it blank");
  }

  // Periods and their tiers
  // ----------------------------------------------------------------------------------

  /// The place of the row's period; a new one is begun.
  std::optional<std::size_t> period_named(const Cells& row, std::vector<Period>& periods) {
    if (row.name.empty()) {
      problem("name", "every price needs a name, such as \"on-peak\"");
      return std::nullopt;
    }
    const auto found = std::ranges::find(periods, row.name, &Period::name);
    if (found == periods.end()) periods.push_back({row.name, {}});
    return static_cast<std::size_t>(std::ranges::find(periods, row.name, &Period::name) - periods.begin());
  }
  Tier tier(const Cells& row, const job::Range& range) {
    const double up_to =
        row.up_to.empty() ? no_end : number("up_to", row.up_to, job::range::positive, no_end);
    return {up_to, price(row, range)};
  }
  /// A row without hours: the next tier of a period.
  void add_tier(const Tier& tier, Period& period) {
    if (period.tiers.empty()) {
      problem("name", fmt::format("there is no \"{}\" above this row to add a tier to", period.name),
              "say days, from, to and months in the first row of a name");
    } else if (!std::isfinite(period.tiers.back().up_to)) {
      problem("up_to", fmt::format("the tier before of \"{}\" has no end", period.name), "give it an up_to");
    } else if (!(tier.up_to > period.tiers.back().up_to)) {
      problem("up_to",
              fmt::format("must be more than the {:g} of the tier before", period.tiers.back().up_to));
    }
    period.tiers.push_back(tier);
  }
  /// A row with hours: the first tier, or more hours at the same price.
  void add_hours(const Tier& tier, Period& period) {
    if (period.tiers.empty()) return period.tiers.push_back(tier);
    const Tier& first = period.tiers.front();
    if (tier.price != first.price || tier.up_to != first.up_to)
      problem("price", fmt::format("\"{}\" has another price or up_to above", period.name),
              "one name has one price; for a further tier leave days, from, to and months blank");
  }

  void read_energy(const Cells& row) {
    must_be_blank("ratchet", !row.ratchet_frac, "energy");
    const auto place = period_named(row, tariff_.energy.periods);
    if (!place) return;
    Period& period = tariff_.energy.periods[*place];
    const Tier read = tier(row, job::range::any);
    demand_price(row, *place);
    if (row.no_hours() && row.months.empty()) return add_tier(read, period);
    add_hours(read, period);
    if (const auto hours = hours_of(row)) fill(*hours, static_cast<int>(*place));
  }
  void demand_price(const Cells& row, std::size_t place) {
    demand_prices_.resize(tariff_.energy.periods.size());
    if (row.demand_price.empty()) return;
    const double price = number("demand_price", row.demand_price, job::range::not_negative, 0);
    auto& kept = demand_prices_[place];
    if (kept && *kept != price) problem("demand_price", "another row of this name has another one");
    kept = price;
  }
  void read_flat(const Cells& row) {
    must_be_blank("days", row.no_hours(), "flat_demand");
    must_be_blank("demand_price", row.demand_price.empty(), "flat_demand");
    const auto place = period_named(row, flat_.periods);
    if (!place) return;
    Period& period = flat_.periods[*place];
    const Tier read = tier(row, job::range::not_negative);
    if (row.months.empty()) {
      must_be_blank("ratchet", !row.ratchet_frac, "a further tier");
      return add_tier(read, period);
    }
    add_hours(read, period);
    const auto months = parse_months(row.months);
    if (!months) return problem("months", months.error());
    for (std::size_t month = 0; month < months->size(); ++month) {
      if (!months->at(month)) continue;
      int& slot = flat_.period_of_month.at(month);
      if (slot != nobody)
        problem("months", fmt::format("{} has a flat demand price already", month_name(month)));
      slot = static_cast<int>(*place);
      tariff_.ratchet_frac.at(month) = row.ratchet_frac.value_or(0);
    }
  }
  void read_lump(const std::string& charge, const Cells& row) {
    const std::array<std::pair<std::string_view, double*>, 4> lumps{
        {{"fixed_per_month", &tariff_.fixed_per_month},
         {"fixed_per_day", &tariff_.fixed_per_day},
         {"minimum_per_month", &tariff_.minimum_per_month},
         {"minimum_per_year", &tariff_.minimum_per_year}}};
    const auto lump = std::ranges::find(lumps, charge, &std::pair<std::string_view, double*>::first);
    if (lump == lumps.end()) return unknown_charge(charge);
    must_be_blank("days", row.no_hours(), charge);
    must_be_blank("months", row.months.empty(), charge);
    must_be_blank("up_to", row.up_to.empty(), charge);
    must_be_blank("demand_price", row.demand_price.empty(), charge);
    must_be_blank("ratchet", !row.ratchet_frac, charge);
    if (std::ranges::find(lumps_seen_, charge) != lumps_seen_.end())
      problem("charge", fmt::format("{} is there twice", charge));
    lumps_seen_.push_back(charge);
    *lump->second = price(row, job::range::not_negative);
  }
  void unknown_charge(const std::string& charge) {
    const std::vector<std::string> known{"energy",        "flat_demand",       "fixed_per_month",
                                         "fixed_per_day", "minimum_per_month", "minimum_per_year"};
    problem("charge", fmt::format("\"{}\" is no charge; expected {}", charge, job::one_of(known)),
            job::did_you_mean(charge, known));
  }

  // Hours
  // ----------------------------------------------------------------------------------------------------

  std::optional<Hours> hours_of(const Cells& row) {
    const auto days = units::parse_weekdays(row.days);
    const auto months = parse_months(row.months);
    if (!days) problem("days", days.error());
    if (!months) problem("months", months.error());
    const auto from = hour("from", row.from), to = hour("to", row.to);
    if (!days || !months || !from || !to) return std::nullopt;
    Hours hours{(*days & weekday_bits) != 0, (*days & weekend_bits) != 0, {}, *months};
    const bool part = (hours.weekday && (*days & weekday_bits) != weekday_bits) ||
                      (hours.weekend && (*days & weekend_bits) != weekend_bits);
    if (part) {
      problem("days", "single days have no prices of their own; expected mon-fri, sat-sun or all");
      return std::nullopt;
    }
    if (*from == *to || *from == hours_a_day) {
      problem("from", "from and to must differ", "a whole day is 00:00 to 24:00");
      return std::nullopt;
    }
    for (int at = *from; at != *to; at = at + 1 == *to ? *to : (at + 1) % hours_a_day) {
      hours.hours.push_back(static_cast<std::size_t>(at));
    }
    return hours;
  }
  std::optional<int> hour(std::string_view key, const std::string& text) {
    const auto time_s = units::parse_time_of_day(text);
    if (time_s && std::fmod(*time_s, 3600) == 0) return static_cast<int>(*time_s / 3600);
    problem(key, time_s ? "prices change on the full hour" : time_s.error());
    return std::nullopt;
  }
  void fill(const Hours& hours, int period) {
    bool told = false;
    const auto take = [&](Grid& grid, const char* days, std::size_t month, std::size_t hour) {
      int& slot = grid.at(month).at(hour);
      if (slot != nobody && !told) {
        told = true;
        problem("from", fmt::format("{}, {}, {:02}:00 has a price already, that of \"{}\"", month_name(month),
                                    days, hour, tariff_.energy.periods[static_cast<std::size_t>(slot)].name));
      }
      slot = period;
    };
    for (std::size_t month = 0; month < hours.months.size(); ++month) {
      if (!hours.months.at(month)) continue;
      for (const std::size_t hour : hours.hours) {
        if (hours.weekday) take(tariff_.energy.weekday, "mon-fri", month, hour);
        if (hours.weekend) take(tariff_.energy.weekend, "sat-sun", month, hour);
      }
    }
  }

  // The whole
  // ------------------------------------------------------------------------------------------------

  void finish() {
    if (context_.problems.empty()) {
      judge_gaps();
      judge_last_tiers(tariff_.energy.periods);
      judge_last_tiers(flat_.periods);
    }
    tariff_.currency = asked_.currency;
    tariff_.holidays_as_weekend = asked_.holidays_as_weekend;
    tariff_.ratchet_months = asked_.ratchet_months;
    if (asked_.currency.empty()) whole_file("currency", "the table does not say it; give it, such as USD");
    finish_demand();
    finish_flat();
    if (!tariff_.demand && !tariff_.flat_demand) return;
    if (!asked_.demand_window_s)
      return whole_file("demand window",
                        "demand is charged; over which minutes does the meter take the mean?");
    tariff_.demand_window_s = *asked_.demand_window_s;
  }
  void judge_gaps() {
    int gaps = 0;
    std::string first;
    for (std::size_t month = 0; month < static_cast<std::size_t>(months_a_year); ++month) {
      for (std::size_t hour = 0; hour < static_cast<std::size_t>(hours_a_day); ++hour) {
        for (const bool weekend : {false, true}) {
          const Grid& grid = weekend ? tariff_.energy.weekend : tariff_.energy.weekday;
          if (grid.at(month).at(hour) != nobody) continue;
          if (gaps++ == 0)
            first = fmt::format("{}, {}, {:02}:00", month_name(month), weekend ? "sat-sun" : "mon-fri", hour);
        }
      }
    }
    if (gaps > 0)
      whole_file(
          "energy", fmt::format("{} has no price", first),
          fmt::format("{} of {} hours of the months have none", gaps, 2 * months_a_year * hours_a_day));
  }
  void judge_last_tiers(const std::vector<Period>& periods) {
    for (const Period& period : periods) {
      if (!period.tiers.empty() && std::isfinite(period.tiers.back().up_to))
        whole_file(period.name, "the last tier has no end, but up_to is given", "add the tier above it");
    }
  }
  void finish_demand() {
    if (std::ranges::none_of(demand_prices_, [](const auto& price) { return price.has_value(); })) return;
    TimeOfUse demand;
    demand.weekday = tariff_.energy.weekday;
    demand.weekend = tariff_.energy.weekend;
    for (std::size_t i = 0; i < demand_prices_.size(); ++i) {
      demand.periods.push_back({tariff_.energy.periods[i].name, {{no_end, demand_prices_[i].value_or(0)}}});
    }
    tariff_.demand = std::move(demand);
  }
  void finish_flat() {
    if (flat_.periods.empty()) return;
    const auto gap = std::ranges::find(flat_.period_of_month, nobody);
    if (gap != flat_.period_of_month.end() && context_.problems.empty())
      whole_file("flat_demand",
                 fmt::format("{} has no flat demand price",
                             month_name(static_cast<std::size_t>(gap - flat_.period_of_month.begin()))),
                 "write a row with price 0 where none is charged");
    tariff_.flat_demand = std::move(flat_);
  }

  job::CsvReader reader_;
  job::Context& context_;
  std::string_view file_;
  const TariffAsked& asked_;
  Tariff tariff_;
  FlatDemand flat_;
  std::vector<std::optional<double>> demand_prices_;  // by energy period
  std::vector<std::string> lumps_seen_;
};

/// A row with a cell too many is a decimal comma sooner than a slip of blanks: prices would move along.
std::vector<job::Diagnostic> rows_too_wide(const tables::CsvText& csv, std::string_view file) {
  std::vector<job::Diagnostic> problems;
  for (const auto& row : csv.rows) {
    if (row.size() <= csv.header.size()) continue;
    problems.push_back({std::string(file), row.front().line, 0, "row",
                        fmt::format("{} cells, but the first line names {}", row.size(), csv.header.size()),
                        "write decimals with a point, and put text that holds a separator in quotes"});
  }
  return problems;
}

std::vector<job::Assumption> assumptions_of(const Tariff& tariff, const TariffAsked& asked) {
  std::vector<job::Assumption> all{
      {"tariff.holidays", asked.holidays_as_weekend ? "priced as weekend" : "priced as any other day",
       "as asked"},
      {"tariff.clock", "the local clock, with daylight saving", "what the table means by hours"}};
  if (tariff.demand || tariff.flat_demand)
    all.push_back({"tariff.demand_window", fmt::format("{:g} s", tariff.demand_window_s), "as asked"});
  return all;
}

}  // namespace

job::Result<TariffImport> read_tariff_csv(std::string_view text, std::string_view file,
                                          const TariffAsked& asked) {
  const auto csv = tables::read_csv(text);
  if (!csv)
    return std::unexpected(std::vector{job::Diagnostic{std::string(file), csv.error().line,
                                                       csv.error().column, "", csv.error().message, ""}});
  if (auto wide = rows_too_wide(*csv, file); !wide.empty()) return std::unexpected(std::move(wide));
  job::Context context;
  Tariff tariff = TableReader(*csv, file, asked, context).read();
  if (!context.problems.empty()) return std::unexpected(std::move(context.problems));
  if (auto left = problems_of(tariff); !left.empty()) {
    for (auto& problem : left) problem.file = file;
    return std::unexpected(std::move(left));
  }
  auto assumptions = assumptions_of(tariff, asked);
  return TariffImport{std::move(tariff), std::move(assumptions)};
}

}  // namespace firstdraw::week
