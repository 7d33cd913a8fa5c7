#include "week/tariff_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <set>

#include "job/context.hpp"
#include "units/quantity.hpp"

namespace firstdraw::week {
namespace {

using Json = nlohmann::json;

/// Fields that make up the bill; all of them are read below.
constexpr std::array bill_fields{"energyratestructure", "energyweekdayschedule",   "energyweekendschedule",
                                 "demandratestructure", "demandweekdayschedule",   "demandweekendschedule",
                                 "demandrateunit",      "demandrateunits",         "demandRateUnits",
                                 "demandwindow",        "demandratchetpercentage", "flatdemandstructure",
                                 "flatdemandmonths",    "flatdemandunit",          "flatdemandunits",
                                 "flatDemandUnits",     "fixedmonthlycharge",      "fixedchargefirstmeter",
                                 "fixedchargeunits",    "minmonthlycharge",        "mincharge",
                                 "minchargeunits",      "annualmincharge",         "name"};

/// Charges that this program does not bill: zero or empty, or the record is refused.
constexpr std::array refused_fields{"demandreactivepowercharge", "coincidentratestructure",
                                    "coincidentrateschedule", "fueladjustmentsmonthly"};

/// Who may have the rate, where it comes from, remarks: they change no figure.
constexpr std::array silent_fields{"label",
                                   "utility",
                                   "uri",
                                   "sector",
                                   "description",
                                   "source",
                                   "sourceparent",
                                   "sourceReference",
                                   "eiaid",
                                   "eia",
                                   "approved",
                                   "is_default",
                                   "startdate",
                                   "enddate",
                                   "supercedes",
                                   "servicetype",
                                   "voltagecategory",
                                   "voltageminimum",
                                   "voltagemaximum",
                                   "phasewiring",
                                   "peakkwcapacitymin",
                                   "peakkwcapacitymax",
                                   "peakkwcapacityhistory",
                                   "peakkwhusagemin",
                                   "peakkwhusagemax",
                                   "peakkwhusagehistory",
                                   "mindemand",
                                   "maxdemand",
                                   "serviceMax",
                                   "serviceMin",
                                   "demandunits",
                                   "basicinformationcomments",
                                   "energycomments",
                                   "demandcomments",
                                   "energyattrs",
                                   "demandattrs",
                                   "fixedattrs",
                                   "usenetmetering",
                                   "dgrules",
                                   "country",
                                   "revisions",
                                   "coincidentrateunit",
                                   "fixedchargeeaaddl"};

/// Line and column of a byte, both from 1.
job::Diagnostic at_byte(std::string_view text, std::size_t byte, std::string_view file) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto lines = std::ranges::count(before, '\n');
  const std::size_t line_begin = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
  return {std::string(file),
          static_cast<int>(lines) + 1,
          static_cast<int>(before.size() - line_begin) + 1,
          "",
          "",
          ""};
}

/// The text as JSON; a key that is there twice would silently win, so it is an error.
job::Result<Json> parse(std::string_view text, std::string_view file) {
  std::vector<std::set<std::string>> open;
  std::string twice;
  const auto watch = [&](int, Json::parse_event_t event, Json& value) {
    if (event == Json::parse_event_t::object_start) open.emplace_back();
    if (event == Json::parse_event_t::object_end) open.pop_back();
    if (event == Json::parse_event_t::key && !open.back().insert(value.get<std::string>()).second)
      twice = value.get<std::string>();
    return true;
  };
  try {
    Json json = Json::parse(text, watch);
    if (twice.empty()) return json;
    return std::unexpected(
        std::vector{job::Diagnostic{std::string(file), 0, 0, twice, "this field is there twice", ""}});
  } catch (const Json::parse_error& trouble) {
    job::Diagnostic wrong = at_byte(text, trouble.byte == 0 ? 0 : trouble.byte - 1, file);
    wrong.message = "this is not JSON from here on; a record of the open utility-rate schema was expected";
    return std::unexpected(std::vector{wrong});
  } catch (const Json::exception&) {  // a number beyond all doubles
    return std::unexpected(
        std::vector{job::Diagnostic{std::string(file), 0, 0, "", "holds a number too large to use", ""}});
  }
}

const char* kind_of(const Json& json) {
  if (json.is_array()) return "a list";
  if (json.is_object()) return "an object";
  if (json.is_string()) return "text";
  if (json.is_boolean()) return "true or false";
  return json.is_null() ? "nothing (null)" : "a number";
}

template <std::size_t n>
bool holds(const std::array<const char*, n>& names, const std::string& name) {
  return std::ranges::find(names, name) != names.end();
}

class RecordReader {
 public:
  RecordReader(const Json& record, std::string_view file, const TariffAsked& asked)
      : record_(record), file_(file), asked_(asked) {}

  std::vector<job::Diagnostic> problems;

  TariffImport read() {
    judge_names();
    Tariff& tariff = out_.tariff;
    tariff.name = word("name").value_or("");
    tariff.currency = asked_.currency;
    if (asked_.currency.empty()) problem("currency", "the record does not say it; give it, such as USD");
    tariff.holidays_as_weekend = asked_.holidays_as_weekend;
    tariff.ratchet_months = asked_.ratchet_months;
    read_energy(tariff.energy);
    read_demand(tariff);
    read_flat_demand(tariff);
    read_window(tariff);
    read_ratchet(tariff);
    read_fixed(tariff);
    read_minimum(tariff);
    note_what_was_asked();
    return std::move(out_);
  }

 private:
  void problem(std::string field, std::string message, std::string hint = {}) {
    problems.push_back({std::string(file_), 0, 0, std::move(field), std::move(message), std::move(hint)});
  }
  void note(std::string field, std::string value, std::string why) {
    out_.assumptions.push_back({std::move(field), std::move(value), std::move(why)});
  }
  void wrong_kind(const std::string& path, const char* expected, const Json& found) {
    problem(path, fmt::format("{} was expected, not {}", expected, kind_of(found)));
  }
  /// Null where the field is not there.
  const Json* field(const char* name) const {
    const auto found = record_.find(name);
    return found == record_.end() ? nullptr : &*found;
  }

  void judge_names() {
    for (const auto& [name, value] : record_.items()) {
      if (holds(bill_fields, name) || holds(silent_fields, name)) continue;
      if (holds(refused_fields, name)) {
        const bool nothing = value.is_null() || value.empty() || (value.is_number() && value == 0);
        if (!nothing) problem(name, "this charge is not billed by this program", "remove it to leave it out");
        continue;
      }
      std::vector<std::string> known(bill_fields.begin(), bill_fields.end());
      const std::string near = job::did_you_mean(name, known);
      problem(name, "is not a known field of the open utility-rate schema",
              near.empty() ? "remove it if it is no charge" : near);
    }
  }

  std::optional<std::string> word(const char* name) {
    const Json* found = field(name);
    if (found == nullptr) return std::nullopt;
    if (found->is_string()) return found->get<std::string>();
    wrong_kind(name, "text", *found);
    return std::nullopt;
  }
  /// A number that any double can hold; empty after a problem.
  std::optional<double> number(const std::string& path, const Json& json) {
    if (json.is_number() && std::isfinite(json.get<double>())) return json.get<double>();
    wrong_kind(path, "a number", json);
    return std::nullopt;
  }
  std::optional<double> not_negative(const std::string& path, const Json& json) {
    const auto value = number(path, json);
    if (!value || *value >= 0) return value;
    problem(path, "must be zero or more");
    return std::nullopt;
  }
  std::optional<double> amount(const char* name) {
    const Json* found = field(name);
    return found == nullptr ? std::nullopt : not_negative(name, *found);
  }

  // Structures: [period][tier]
  // -------------------------------------------------------------------------------

  /// Whether the list is there and has something in it.
  bool full_list(const std::string& path, const Json& json, const char* of_what) {
    if (!json.is_array()) return wrong_kind(path, fmt::format("a list of {}", of_what).c_str(), json), false;
    if (json.empty()) problem(path, fmt::format("the list of {} is empty", of_what));
    return !json.empty();
  }

  std::vector<Period> structure(const char* name, bool may_be_negative, bool* daily) {
    std::vector<Period> periods;
    const Json& json = *field(name);
    if (!full_list(name, json, "periods")) return periods;
    for (std::size_t i = 0; i < json.size(); ++i) {
      const std::string path = fmt::format("{}[{}]", name, i);
      Period& period = periods.emplace_back();
      period.name = fmt::format("period {}", i);
      if (!full_list(path, json[i], "tiers")) continue;
      for (std::size_t k = 0; k < json[i].size(); ++k) {
        const bool last = k + 1 == json[i].size();
        const double before = k == 0 ? 0 : period.tiers.back().up_to;
        period.tiers.push_back(
            tier(fmt::format("{}[{}]", path, k), json[i][k], {last, before, may_be_negative, daily}));
      }
    }
    return periods;
  }

  struct TierPlace {
    bool last;
    double before;
    bool may_be_negative;
    bool* daily;  // where tiers may be "kWh daily"; null for demand
  };
  Tier tier(const std::string& path, const Json& json, const TierPlace& place) {
    Tier tier;
    if (!json.is_object()) return wrong_kind(path, "an object with a rate", json), tier;
    judge_tier_names(path, json);
    if (!json.contains("rate")) {
      problem(path, "has no rate", "a price is rate and adj together; write \"rate\": 0 for none");
    } else {
      const auto rate = number(path + ".rate", json["rate"]);
      const auto adj = json.contains("adj") ? number(path + ".adj", json["adj"]) : 0.0;
      if (rate && adj) tier.price = *rate + *adj;
      if (tier.price < 0 && !place.may_be_negative)
        problem(path, "rate and adj together must be zero or more");
    }
    tier.up_to = tier_end(path, json, place);
    judge_tier_unit(path, json, place);
    return tier;
  }
  void judge_tier_names(const std::string& path, const Json& json) {
    const std::vector<std::string> known{"rate", "adj", "max", "unit", "sell"};
    for (const auto& [name, value] : json.items()) {
      if (name == "sell") sells_ = true;
      if (std::ranges::find(known, name) != known.end()) continue;
      problem(fmt::format("{}.{}", path, name),
              fmt::format("is not known here; expected {}", job::one_of(known)),
              job::did_you_mean(name, known));
    }
  }
  double tier_end(const std::string& path, const Json& json, const TierPlace& place) {
    constexpr double no_end = std::numeric_limits<double>::infinity();
    if (!json.contains("max")) {
      if (!place.last) problem(path, "has no max, but tiers follow it", "only the last tier has no end");
      return no_end;
    }
    const auto end = number(path + ".max", json["max"]);
    if (!end) return no_end;
    if (place.last) {
      problem(path + ".max", "the last tier has no end", "leave max out, or add the tier above it");
      return no_end;
    }
    if (!(*end > place.before))
      problem(path + ".max", fmt::format("must be more than the {:g} of the tier before", place.before));
    return *end;
  }
  void judge_tier_unit(const std::string& path, const Json& json, const TierPlace& place) {
    const Json unit = json.contains("unit") ? json["unit"] : Json(place.daily == nullptr ? "kW" : "kWh");
    if (!unit.is_string()) return wrong_kind(path + ".unit", "text", unit);
    const auto text = unit.get<std::string>();
    const std::vector<std::string> known = place.daily == nullptr
                                               ? std::vector<std::string>{"kW"}
                                               : std::vector<std::string>{"kWh", "kWh daily"};
    if (std::ranges::find(known, text) == known.end())
      return problem(path + ".unit",
                     fmt::format("tiers in \"{}\" are not billed by this program; expected {}", text,
                                 job::one_of(known)));
    if (place.daily == nullptr) return;
    const bool daily = text == "kWh daily";
    if (tier_unit_known_ && daily != *place.daily)
      problem(path + ".unit", "all tiers must have the same unit");
    tier_unit_known_ = true;
    *place.daily = daily;
  }

  // Schedules
  // ------------------------------------------------------------------------------------------------

  std::optional<int> index(const std::string& path, const Json& json, std::size_t periods) {
    if (!json.is_number_integer()) {
      wrong_kind(path, "the whole number of a period", json);
      return std::nullopt;
    }
    const bool inside =
        json.is_number_unsigned()
            ? json.get<std::uint64_t>() < periods
            : json.get<std::int64_t>() >= 0 && static_cast<std::size_t>(json.get<std::int64_t>()) < periods;
    if (inside) return json.get<int>();
    problem(path, fmt::format("there is no period {}; there are {}, counted from 0", json.dump(), periods));
    return std::nullopt;
  }
  bool list_of(const std::string& path, const Json& json, std::size_t size, const char* what) {
    if (json.is_array() && json.size() == size) return true;
    const std::string found = json.is_array() ? fmt::format("a list of {}", json.size()) : kind_of(json);
    problem(path, fmt::format("a list of {} {} was expected, not {}", size, what, found));
    return false;
  }
  Grid grid(const char* name, const char* needed_by, std::size_t periods) {
    Grid grid{};
    const Json* json = field(name);
    if (json == nullptr) {
      problem(name, fmt::format("is missing; {} needs it", needed_by));
      return grid;
    }
    if (!list_of(name, *json, months_a_year, "months")) return grid;
    for (std::size_t month = 0; month < grid.size(); ++month) {
      const Json& hours = (*json)[month];
      if (!list_of(fmt::format("{}[{}]", name, month), hours, hours_a_day, "hours")) continue;
      for (std::size_t hour = 0; hour < hours.size(); ++hour) {
        const auto at = index(fmt::format("{}[{}][{}]", name, month, hour), hours[hour], periods);
        grid.at(month).at(hour) = at.value_or(0);
      }
    }
    return grid;
  }

  /// Charges of this kind are there; a schedule without its prices is an error.
  bool given(const char* structure, std::initializer_list<const char*> schedules) {
    if (field(structure) != nullptr) return true;
    for (const char* schedule : schedules) {
      if (field(schedule) != nullptr) problem(structure, fmt::format("is missing; {} needs it", schedule));
    }
    return false;
  }

  void read_energy(TimeOfUse& energy) {
    if (!given("energyratestructure", {"energyweekdayschedule", "energyweekendschedule"})) {
      if (field("energyweekdayschedule") == nullptr && field("energyweekendschedule") == nullptr)
        problem("energyratestructure", "is missing; a tariff without energy prices cannot be billed");
      return;
    }
    energy.periods = structure("energyratestructure", true, &energy.daily);
    if (energy.periods.empty()) return;
    energy.weekday = grid("energyweekdayschedule", "energyratestructure", energy.periods.size());
    energy.weekend = grid("energyweekendschedule", "energyratestructure", energy.periods.size());
    if (std::ranges::any_of(energy.periods, [](const Period& p) { return p.tiers.size() > 1; }))
      note("tariff.tiers", "counted in each period by itself", "the record does not say");
  }
  void read_demand(Tariff& tariff) {
    if (!given("demandratestructure", {"demandweekdayschedule", "demandweekendschedule"})) return;
    TimeOfUse demand;
    demand.periods = structure("demandratestructure", false, nullptr);
    demand.daily = daily_unit({"demandrateunit", "demandrateunits", "demandRateUnits"});
    if (demand.periods.empty()) return;
    demand.weekday = grid("demandweekdayschedule", "demandratestructure", demand.periods.size());
    demand.weekend = grid("demandweekendschedule", "demandratestructure", demand.periods.size());
    tariff.demand = std::move(demand);
  }
  void read_flat_demand(Tariff& tariff) {
    if (!given("flatdemandstructure", {"flatdemandmonths"})) return;
    FlatDemand flat;
    flat.periods = structure("flatdemandstructure", false, nullptr);
    flat.daily = daily_unit({"flatdemandunit", "flatdemandunits", "flatDemandUnits"});
    if (flat.periods.empty()) return;
    const Json* months = field("flatdemandmonths");
    if (months == nullptr) return problem("flatdemandmonths", "is missing; flatdemandstructure needs it");
    if (!list_of("flatdemandmonths", *months, months_a_year, "months")) return;
    for (std::size_t i = 0; i < months->size(); ++i) {
      const auto at = index(fmt::format("flatdemandmonths[{}]", i), (*months)[i], flat.periods.size());
      flat.period_of_month.at(i) = at.value_or(0);
    }
    tariff.flat_demand = std::move(flat);
  }

  /// Prices by the kW of the month, or by the kW and day; the schema has the field under several names.
  bool daily_unit(std::initializer_list<const char*> names) {
    for (const char* name : names) {
      const auto unit = word(name);
      if (!unit) continue;
      if (*unit == "kW") return false;
      if (*unit == "kW daily") return true;
      problem(name,
              fmt::format("demand in \"{}\" is not billed by this program; expected kW or kW daily", *unit));
      return false;
    }
    note(fmt::format("tariff.{}", *names.begin()), "kW", "the record does not say");
    return false;
  }

  // What holds for the whole bill
  // ----------------------------------------------------------------------------

  void read_window(Tariff& tariff) {
    const Json* json = field("demandwindow");
    const auto minutes = json == nullptr ? std::nullopt : number("demandwindow", *json);
    if (minutes) tariff.demand_window_s = 60 * *minutes;
    const bool charged = tariff.demand || tariff.flat_demand;
    if (json == nullptr && asked_.demand_window_s) tariff.demand_window_s = *asked_.demand_window_s;
    if (json == nullptr && !asked_.demand_window_s && charged)
      problem("demandwindow",
              "is missing; demand is charged, over which minutes does the meter take the mean?");
    const double window_s = tariff.demand_window_s;
    if (!(window_s >= 1 && window_s <= 3600) || std::fmod(3600, window_s) != 0)
      problem("demandwindow", "minutes that divide an hour were expected: 5, 10, 15, 20, 30 or 60");
  }
  void read_ratchet(Tariff& tariff) {
    const Json* json = field("demandratchetpercentage");
    if (json == nullptr || !list_of("demandratchetpercentage", *json, months_a_year, "months")) return;
    bool any = false;
    for (std::size_t i = 0; i < json->size(); ++i) {
      const std::string path = fmt::format("demandratchetpercentage[{}]", i);
      const auto frac = not_negative(path, (*json)[i]);
      if (frac && *frac > 1) problem(path, "a fraction from 0 to 1 was expected", "80 % is 0.8");
      tariff.ratchet_frac.at(i) = frac.value_or(0);
      any |= frac.value_or(0) > 0;
    }
    if (!any) return;
    if (field("flatdemandstructure") == nullptr)
      problem("demandratchetpercentage", "a ratchet acts on flat demand, and flatdemandstructure is missing");
    note("tariff.ratchet",
         fmt::format("the billed month's fraction of the highest of {} months before", tariff.ratchet_months),
         "the record does not say how far it looks back");
  }
  void read_fixed(Tariff& tariff) {
    const auto monthly = amount("fixedmonthlycharge"), first = amount("fixedchargefirstmeter");
    if (monthly && first)
      problem("fixedmonthlycharge", "the fixed charge is given twice, here and as fixedchargefirstmeter");
    tariff.fixed_per_month = monthly.value_or(0);
    if (!first) return;
    const auto unit = charge_unit("fixedchargeunits", *first, {"$/month", "$/day", "$/year"});
    if (unit == "$/day") tariff.fixed_per_day = *first;
    if (unit == "$/month") tariff.fixed_per_month = *first;
    if (unit == "$/year") tariff.fixed_per_month = *first / months_a_year;
  }
  void read_minimum(Tariff& tariff) {
    const auto monthly = amount("minmonthlycharge"), other = amount("mincharge");
    if (monthly && other) problem("minmonthlycharge", "the least bill is given twice, here and as mincharge");
    tariff.minimum_per_month = monthly.value_or(0);
    tariff.minimum_per_year = amount("annualmincharge").value_or(0);
    if (!other) return;
    const auto unit = charge_unit("minchargeunits", *other, {"$/month", "$/year"});
    if (unit == "$/month") tariff.minimum_per_month = *other;
    if (unit != "$/year") return;
    if (field("annualmincharge") != nullptr)
      problem("annualmincharge", "the least bill of a year is given twice, here and as mincharge");
    tariff.minimum_per_year = *other;
  }
  /// The unit of a charge; nothing is asked of one that is zero.
  std::string charge_unit(const char* name, double charge, const std::vector<std::string>& known) {
    const auto unit = word(name);
    if (unit && std::ranges::find(known, *unit) != known.end()) return *unit;
    if (charge == 0) return {};
    const std::string found = unit ? fmt::format("\"{}\" is not known", *unit) : "is missing";
    problem(name, fmt::format("{}; expected {}", found, job::one_of(known)));
    return {};
  }

  void note_what_was_asked() {
    note("tariff.holidays", asked_.holidays_as_weekend ? "priced as weekend" : "priced as any other day",
         "the record does not say; as asked");
    if (field("demandwindow") == nullptr && asked_.demand_window_s)
      note("tariff.demand_window", fmt::format("{:g} s", *asked_.demand_window_s),
           "the record does not say; as asked");
    note("tariff.clock", "the local clock, with daylight saving", "the record does not say");
    if (sells_) note("tariff.sell", "not read", "heating cable buys and does not sell");
  }

  const Json& record_;
  std::string_view file_;
  const TariffAsked& asked_;
  TariffImport out_;
  bool sells_ = false, tier_unit_known_ = false;
};

/// The record in the text: the object itself, or the one in its "items".
const Json* record_in(const Json& json, std::string& field, std::string& message) {
  if (!json.is_object()) {
    message = fmt::format("an object with the fields of a rate was expected, not {}", kind_of(json));
    return nullptr;
  }
  if (!json.contains("items")) return &json;
  const Json& items = json["items"];
  field = "items";
  const bool one = items.is_array() && items.size() == 1;
  if (one && json.size() == 1 && items[0].is_object()) return &items[0];
  message = "exactly one record was expected, and nothing beside items";
  return nullptr;
}

}  // namespace

job::Result<TariffImport> read_tariff_json(std::string_view text, std::string_view file,
                                           const TariffAsked& asked) {
  const auto json = parse(text, file);
  if (!json) return std::unexpected(json.error());
  std::string field, message;
  const Json* record = record_in(*json, field, message);
  if (record == nullptr)
    return std::unexpected(std::vector{job::Diagnostic{std::string(file), 0, 0, field, message, ""}});
  RecordReader reader(*record, file, asked);
  TariffImport import = reader.read();
  if (!reader.problems.empty()) return std::unexpected(std::move(reader.problems));
  if (auto left = problems_of(import.tariff); !left.empty()) {
    for (auto& problem : left) problem.file = file;
    return std::unexpected(std::move(left));
  }
  return import;
}

}  // namespace firstdraw::week
