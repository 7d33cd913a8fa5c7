#include "settings/inputs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <string_view>

#include "units/number.hpp"
#include "week/tariff_csv.hpp"
#include "week/tariff_json.hpp"

namespace firstdraw::settings {
namespace {

constexpr std::string_view job_file = "job.toml";
// What read_zone knows; a priced year at either end has no neighbour on one side.
constexpr int first_year = 1970, last_year = 2037;

std::string lowered_end(std::string_view file) {
  const auto dot = file.rfind('.');
  std::string end(dot == std::string_view::npos ? std::string_view{} : file.substr(dot));
  for (char& c : end) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return end;
}

int year_of(const week::Date& date) { return static_cast<int>(date.year()); }

/// Reads everything that it can before it gives up, so that all problems are told at once.
class Reader {
 public:
  explicit Reader(const job::Job& job) : job_(job), asked_(job.tariff) {}

  job::Result<Inputs> read() {
    in_.year = priced_year();
    const std::vector<week::Date> holidays = read_holidays();
    read_calendar(holidays);
    read_tariff();
    if (!problems_.empty()) return std::unexpected(std::move(problems_));
    say_when_no_holiday(holidays);
    return std::move(in_);
  }

 private:
  void problem(std::string_view field, std::string message, std::string hint = {}) {
    problems_.push_back(
        {std::string(job_file), 0, 0, std::string(field), std::move(message), std::move(hint)});
  }

  /// 0 after a problem.
  int priced_year() {
    int year = asked_.year;
    if (year == 0) {
      const auto date = week::parse_date(job_.site.date);
      if (!date) {
        problem("tariff.year", "is missing, and site.date is no date to take it from; expected such as 2026",
                "write year = 2026 in [tariff]");
        return 0;
      }
      year = year_of(*date);
      in_.assumptions.push_back({"tariff.year", std::to_string(year), "the year of site.date"});
    }
    if (year >= first_year && year <= last_year) return year;
    problem("tariff.year", fmt::format("{} is not known to the time zone data; expected {} to {}", year,
                                       first_year, last_year));
    return 0;
  }

  std::vector<week::Date> read_holidays() {
    std::vector<week::Date> dates;
    for (const std::string& text : asked_.holidays) {
      if (const auto date = week::parse_date(text))
        dates.push_back(*date);
      else
        problem("tariff.holidays", date.error());
    }
    return dates;
  }

  void read_calendar(const std::vector<week::Date>& holidays) {
    if (units::trim(asked_.zone).empty())
      return problem("tariff.zone",
                     "is missing; expected the site's time zone by its name in the IANA list, such as "
                     "\"America/Chicago\" or \"Europe/Berlin\"",
                     "write zone = \"America/Chicago\" in [tariff]");
    // Without a year the zone's name can still be judged.
    const int year = in_.year == 0 ? 2026 : in_.year;
    int first = std::max(year - 1, first_year), last = std::min(year + 1, last_year);
    for (const week::Date& holiday : holidays) {  // a list may hold several years
      first = std::clamp(year_of(holiday), first_year, first);
      last = std::clamp(year_of(holiday), last, last_year);
    }
    auto zone = week::read_zone(asked_.zone, first, last);
    if (!zone) return problem("tariff.zone", zone.error());
    std::vector<week::Season> seasons;
    for (const job::Season& season : asked_.seasons)
      seasons.push_back({season.name, std::chrono::month(static_cast<unsigned>(season.month)) /
                                          std::chrono::day(static_cast<unsigned>(season.day))});
    auto calendar = week::make_calendar(std::move(*zone), holidays, std::move(seasons), job_file);
    if (calendar)
      in_.calendar = std::move(*calendar);
    else
      add_problems(std::move(calendar.error()));
  }

  void add_problems(std::vector<job::Diagnostic> found) {
    for (job::Diagnostic& diagnostic : found) {
      if (diagnostic.file == job_file) diagnostic.field = "tariff." + diagnostic.field;
      problems_.push_back(std::move(diagnostic));
    }
  }

  void read_tariff() {
    if (asked_.file.empty()) return take_flat_price();
    const week::TariffAsked asked{job_.economics.currency, asked_.holidays_as_weekend, asked_.demand_window_s,
                                  asked_.ratchet_months};
    const std::string end = lowered_end(asked_.file);
    if (end != ".csv" && end != ".json")
      return problem("tariff.file",
                     fmt::format("{} is neither a table nor a record; expected a name that ends in .csv or "
                                 ".json",
                                 units::quoted(asked_.file)));
    auto import = end == ".csv" ? week::read_tariff_csv(asked_.text, asked_.file, asked)
                                : week::read_tariff_json(asked_.text, asked_.file, asked);
    if (!import) return add_problems(std::move(import.error()));
    in_.tariff = std::move(import->tariff);
    std::ranges::move(import->assumptions, std::back_inserter(in_.assumptions));
  }

  void take_flat_price() {
    const double price = job_.economics.energy_price_per_kwh;
    in_.tariff.name = "one price at all hours";
    in_.tariff.currency = job_.economics.currency;
    in_.tariff.energy.periods = {
        {"all hours", {{.up_to = std::numeric_limits<double>::infinity(), .price = price}}}};
    in_.tariff.holidays_as_weekend = asked_.holidays_as_weekend;
    in_.assumptions.push_back({"tariff.file",
                               fmt::format("{:g} {} per kWh at all hours", price, job_.economics.currency),
                               "no tariff was given: the energy price of [economics], and no demand charge"});
    for (job::Diagnostic& found : week::problems_of(in_.tariff))
      problem("economics.energy_price", std::move(found.message));
  }

  void say_when_no_holiday(const std::vector<week::Date>& holidays) {
    const auto in_year = [&](const week::Date& date) { return year_of(date) == in_.year; };
    if (!in_.tariff.holidays_as_weekend || asked_.file.empty()) return;
    if (std::ranges::any_of(holidays, in_year)) return;
    in_.assumptions.push_back({"tariff.holidays", fmt::format("none in {}", in_.year),
                               "no holiday of the priced year was given: weekdays have their usual prices"});
  }

  const job::Job& job_;
  const job::Tariff& asked_;
  Inputs in_;
  std::vector<job::Diagnostic> problems_;
};

}  // namespace

job::Result<Inputs> read_inputs(const job::Job& job) { return Reader(job).read(); }

}  // namespace firstdraw::settings
