#include "week/tariff_json.hpp"

#include "week/tariff_json_fields.hpp"

namespace firstdraw::week {
namespace {

/// Fields that make up the bill; all of them are read below.
constexpr std::array bill_fields{"energyratestructure",
                                 "energyweekdayschedule",
                                 "energyweekendschedule",
                                 "demandratestructure",
                                 "demandweekdayschedule",
                                 "demandweekendschedule",
                                 "demandrateunit",
                                 "demandrateunits",
                                 "demandRateUnits",
                                 "demandwindow",
                                 "demandratchetpercentage",
                                 "flatdemandstructure",
                                 "flatdemandmonths",
                                 "flatdemandunit",
                                 "flatdemandunits",
                                 "flatDemandUnits",
                                 "fixedmonthlycharge",
                                 "fixedchargefirstmeter",
                                 "fixedchargeunits",
                                 "minmonthlycharge",
                                 "mincharge",
                                 "minchargeunits",
                                 "annualmincharge",
                                 "energytoulabels",
                                 "name"};

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
                                   "supersedes",
                                   "dgRules",
                                   "dgrules",
                                   "country",
                                   "revisions",
                                   "coincidentrateunit",
                                   "fixedchargeeaaddl"};

template <std::size_t n>
bool holds(const std::array<const char*, n>& names, const std::string& name) {
  return std::ranges::find(names, name) != names.end();
}

class RecordReader : public RecordFields {
 public:
  RecordReader(const Json& record, std::string_view file, const TariffAsked& asked)
      : RecordFields(record, file), asked_(asked) {}

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
  void note(std::string field, std::string value, std::string why) {
    out_.assumptions.push_back({std::move(field), std::move(value), std::move(why)});
  }
  void judge_names() {
    for (const auto& [name, value] : record().items()) {
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

  void read_energy(TimeOfUse& energy) {
    if (!given("energyratestructure", {"energyweekdayschedule", "energyweekendschedule"})) {
      if (field("energyweekdayschedule") == nullptr && field("energyweekendschedule") == nullptr)
        problem("energyratestructure", "is missing; a tariff without energy prices cannot be billed");
      return;
    }
    energy.periods = structure("energyratestructure", true, &energy.daily);
    if (energy.periods.empty()) return;
    name_periods(energy.periods);
    energy.weekday = grid("energyweekdayschedule", "energyratestructure", energy.periods.size());
    energy.weekend = grid("energyweekendschedule", "energyratestructure", energy.periods.size());
    if (std::ranges::any_of(energy.periods, [](const Period& p) { return p.tiers.size() > 1; }))
      note("tariff.tiers", "counted in each period by itself", "the record does not say");
  }
  /// Some records name the periods of energy.
  void name_periods(std::vector<Period>& periods) {
    const Json* names = field("energytoulabels");
    if (names == nullptr || !list_of("energytoulabels", *names, periods.size(), "names of periods")) return;
    for (std::size_t i = 0; i < periods.size(); ++i) {
      if ((*names)[i].is_string()) {
        periods[i].name = (*names)[i].get<std::string>();
      } else {
        wrong_kind(fmt::format("energytoulabels[{}]", i), "text", (*names)[i]);
      }
    }
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
    if (sells()) note("tariff.sell", "not read", "heating cable buys and does not sell");
  }

  const TariffAsked& asked_;
  TariffImport out_;
};

}  // namespace

job::Result<TariffImport> read_tariff_json(std::string_view text, std::string_view file,
                                           const TariffAsked& asked) {
  const auto record = read_record(text, file);
  if (!record) return std::unexpected(record.error());
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
