#include "rules/conductor_sizing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "rules/conductor_tables.hpp"
#include "units/quantity.hpp"

namespace firstdraw::rules {

namespace {

using Failure = std::unexpected<std::string>;

constexpr double kPercent = 100;

/// Lengths in the unit of the documents that the rule set stands for.
std::string shown_length(RuleSet rules, double length_m) {
  return units::show(length_m, units::Kind::length,
                     rules == RuleSet::us ? units::System::us : units::System::metric);
}

constexpr double kRound = 1e-9;  // 1.25 times 16 A is 20 A, whatever the last bit says

bool reaches(double value, double needed) { return value >= needed * (1 - kRound); }

double loop_drop_v(double ohm_per_m, double current_a, double one_way_m, bool three_phase) {
  return (three_phase ? std::numbers::sqrt3 : 2.0) * ohm_per_m * current_a * one_way_m;
}

/// What the loop over the sizes needs, decided once.
struct Demand {
  double base_a = 0;  // load times the factor of a continuous load
  double insulation_c = 0, terminal_c = 0;
  double factor = 1;  // ambient times grouping
  double next_rating_up_to_a = 0;
  int loaded = 2;
  std::vector<double> ratings_a;
};

void require_sensible(const ConductorCase& in) {
  require_known("installation method", in.method, installation_methods(in.rules));
  require_known("make of conductor", in.make, conductor_makes(in.rules));
  if (!in.stated_size.empty()) resistance_ohm_per_m(in.rules, in.stated_size, in.make, in.ambient_c);
  const bool sound = in.load_a > 0 && in.device_a > 0 && in.voltage_v > 0 && in.one_way_m >= 0 &&
                     in.current_carrying >= 1 && std::isfinite(in.ambient_c) &&
                     std::isfinite(in.load_a + in.device_a + in.voltage_v + in.one_way_m);
  if (!sound) throw std::logic_error("size_conductor: currents and voltage must be positive numbers");
}

double terminal_limit_c(const ConductorCase& in, Ruling& ruling) {
  constexpr double kLargeA = 100;
  const bool large = in.rules == RuleSet::us && in.device_a > kLargeA;
  const std::string_view id = large ? "terminal-temperature-large" : "terminal-temperature";
  if (!in.terminal_c || ruling.overridden(id)) return ruling.apply(id);
  ruling.say(fmt::format("Terminals are listed and marked for {:g} °C, as stated.", *in.terminal_c),
             circuit_rule(in.rules, id).citation, id);
  return *in.terminal_c;
}

/// Number of what the grouping table counts: conductors, or circuits of `loaded` conductors each.
int grouped(const ConductorCase& in, int loaded) {
  return in.rules == RuleSet::us ? in.current_carrying : (in.current_carrying + loaded - 1) / loaded;
}

std::expected<double, std::string> factors(const ConductorCase& in, int loaded, double insulation_c,
                                           Ruling& ruling) {
  const auto air = ambient_factor(in.rules, insulation_c, in.ambient_c);
  if (!air && !ruling.overridden("ambient-factor"))
    return Failure(fmt::format("air of {:g} °C is too hot for conductors of {:g} °C ({})", in.ambient_c,
                               insulation_c, circuit_rule(in.rules, "ambient-factor").citation.text()));
  const auto group = grouping_factor(in.rules, grouped(in, loaded));
  if (!group && !ruling.overridden("grouping-factor"))
    return Failure(fmt::format("{} circuits together are beyond the table ({})", grouped(in, loaded),
                               circuit_rule(in.rules, "grouping-factor").citation.text()));
  const CitedNumber none{NAN, circuit_rule(in.rules, "ambient-factor").citation};
  const CitedNumber a = air.value_or(none), g = group.value_or(none);
  const double by_air = ruling.apply("ambient-factor", a.value,
                                     fmt::format("Air of {:g} °C around {:g} °C conductors: factor {:g}.",
                                                 in.ambient_c, insulation_c, a.value),
                                     a.citation);
  const double by_group =
      ruling.apply("grouping-factor", g.value,
                   fmt::format("{} {} together: factor {:g}.", grouped(in, loaded),
                               in.rules == RuleSet::us ? "current-carrying conductors" : "circuits", g.value),
                   g.citation);
  return by_air * by_group;
}

/// Column of the table for the terminals: the hottest that is not hotter than they are; NaN when all are.
double terminal_column_c(RuleSet rules, double terminal_c) {
  double column = NAN;
  for (const double one : capacity_columns_c(rules)) {
    if (one <= terminal_c) column = one;
  }
  return column;
}

std::expected<Demand, std::string> demand_of(const ConductorCase& in, Ruling& ruling) {
  Demand need;
  const double share = in.continuous ? ruling.apply("continuous-load") : 1.0;
  need.base_a = share * in.load_a;
  need.loaded = in.three_phase ? 3 : 2;
  if (!reaches(in.device_a, need.base_a))
    return Failure(fmt::format(
        "a device of {:g} A is too small for a load of {:.4g} A, which asks for {:.4g} A ({})", in.device_a,
        in.load_a, need.base_a, circuit_rule(in.rules, "continuous-load").citation.text()));
  const CitedNumber insulation = insulation_limit_c(in.rules, in.insulation);
  need.insulation_c = insulation.value;
  ruling.say(fmt::format("{} conductors may reach {:g} °C.", in.insulation, insulation.value),
             insulation.citation, "insulation");
  const double terminal_c = terminal_limit_c(in, ruling);
  need.terminal_c = terminal_column_c(in.rules, std::min(terminal_c, need.insulation_c));
  if (std::isnan(need.terminal_c))
    return Failure(fmt::format("no capacity is tabled for terminals of {:g} °C", terminal_c));
  auto factor = factors(in, need.loaded, need.insulation_c, ruling);
  if (!factor) return Failure(factor.error());
  need.factor = *factor;
  need.ratings_a = standard_ratings_a(in.rules, false);
  if (in.rules == RuleSet::us) need.next_rating_up_to_a = ruling.value("next-rating");
  return need;
}

struct Carried {
  double corrected_a = 0, terminal_a = 0;
  Citation citation;
  double usable_a() const { return std::min(corrected_a, terminal_a); }
};

std::optional<Carried> carried(const ConductorCase& in, const Demand& need, const Ruling& ruling,
                               const ConductorSize& size) {
  const auto at_insulation = capacity_a(in.rules, need.insulation_c, in.method, need.loaded, size.size);
  const auto at_terminal = capacity_a(in.rules, need.terminal_c, in.method, need.loaded, size.size);
  if (!at_insulation || !at_terminal) return std::nullopt;
  const double corrected_a =
      ruling.overridden("conductor-capacity").value_or(at_insulation->value * need.factor);
  return Carried{corrected_a, at_terminal->value, at_insulation->citation};
}

/// 240.4: the device is not above the capacity, or is the next standard rating above it; 433.1 for intl.
bool protects(const ConductorCase& in, const Demand& need, double usable_a) {
  if (reaches(usable_a, in.device_a)) return true;
  if (in.device_a > need.next_rating_up_to_a) return false;
  const auto next =
      std::ranges::find_if(need.ratings_a, [&](double rating) { return reaches(rating, usable_a); });
  return next != need.ratings_a.end() && in.device_a <= *next;
}

/// Largest device the small-conductor rule leaves a size; NaN where it sets none.
double small_limit_a(const Ruling& ruling, const ConductorSize& size) {
  if (std::isnan(size.most_device_a)) return size.most_device_a;
  return ruling.overridden("small-conductor").value_or(size.most_device_a);
}

bool carries(const ConductorCase& in, const Demand& need, const Ruling& ruling, const ConductorSize& size,
             const Carried& has) {
  return reaches(has.terminal_a, need.base_a) && reaches(has.corrected_a, in.load_a) &&
         protects(in, need, has.usable_a()) && !(small_limit_a(ruling, size) < in.device_a);
}

std::optional<std::size_t> by_current(const ConductorCase& in, const Demand& need, const Ruling& ruling) {
  const auto sizes = conductor_sizes(in.rules);
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    if (!has_resistance(in.rules, sizes[i].size, in.make)) continue;
    const auto has = carried(in, need, ruling, sizes[i]);
    if (has && carries(in, need, ruling, sizes[i], *has)) return i;
  }
  return std::nullopt;
}

CitedNumber resistance_of(const ConductorCase& in, const Demand& need, const ConductorSize& size) {
  constexpr double kTable8C = 75;
  return resistance_ohm_per_m(in.rules, size.size, in.make,
                              in.rules == RuleSet::us ? kTable8C : need.insulation_c);
}

double drop_of(const ConductorCase& in, const Demand& need, const ConductorSize& size) {
  return loop_drop_v(resistance_of(in, need, size).value, in.load_a, in.one_way_m, in.three_phase);
}

/// First size from `from` up whose drop is small enough.
std::optional<std::size_t> by_drop(const ConductorCase& in, const Demand& need, std::size_t from,
                                   double most_v) {
  const auto sizes = conductor_sizes(in.rules);
  for (std::size_t i = from; i < sizes.size(); ++i) {
    if (!has_resistance(in.rules, sizes[i].size, in.make)) continue;
    if (drop_of(in, need, sizes[i]) <= most_v && carried(in, need, Ruling(in.rules, {}), sizes[i])) return i;
  }
  return std::nullopt;
}

void explain_current(const ConductorCase& in, const Demand& need, const ConductorSize& size,
                     const Carried& has, Ruling& ruling) {
  const double by_table = capacity_a(in.rules, need.insulation_c, in.method, need.loaded, size.size)->value;
  ruling.apply("conductor-capacity", by_table * need.factor,
               fmt::format("{} carries {:g} A at {:g} °C, {:.4g} A after factors; the load is {:.4g} A.",
                           size.size, by_table, need.insulation_c, by_table * need.factor, in.load_a),
               has.citation);
  ruling.say(
      fmt::format("Its terminals, column {:g} °C, allow {:g} A before factors; {:.4g} A are asked for.",
                  need.terminal_c, has.terminal_a, need.base_a),
      circuit_rule(in.rules, "terminal-temperature").citation, "terminals");
  const bool behind_next_rating = in.rules == RuleSet::us && !reaches(has.usable_a(), in.device_a);
  if (behind_next_rating || ruling.overridden("next-rating")) ruling.apply("next-rating");
}

void explain_small(const ConductorCase& in, const ConductorSize& size, Ruling& ruling) {
  if (in.rules != RuleSet::us) return;
  const ConductorSize* largest = nullptr;
  for (const ConductorSize& one : conductor_sizes(in.rules)) {
    if (!std::isnan(one.most_device_a) && (one.most_device_a < in.device_a || one.size == size.size))
      largest = &one;
  }
  if (!largest && !ruling.overridden("small-conductor")) return;
  const double most_a = largest ? largest->most_device_a : NAN;
  ruling.apply("small-conductor", most_a,
               largest ? fmt::format("{} copper stands behind at most {:g} A.", largest->size, most_a) : "",
               circuit_rule(in.rules, "small-conductor").citation);
}

const ConductorSize* named(RuleSet rules, std::string_view size) {
  const auto sizes = conductor_sizes(rules);
  const auto found = std::ranges::find(sizes, size, &ConductorSize::size);
  return found == sizes.end() ? nullptr : &*found;
}

/// First size of at least `area_kcmil`, no larger than the conductors.
const ConductorSize& earth_at_least(double area_kcmil, const ConductorSize* phase) {
  for (const ConductorSize& one : conductor_sizes(RuleSet::us)) {
    if (reaches(one.area_kcmil, area_kcmil) || one.size == phase->size) return one;
  }
  return *phase;
}

/// 250.122(B): the earth grows with conductors upsized from `least` to `phase`.
const ConductorSize& grown(const ConductorSize& earth, const ConductorSize& least, const ConductorSize& phase,
                           Ruling& ruling) {
  const double ratio = phase.area_kcmil / least.area_kcmil;
  const CircuitRule& rule = circuit_rule(RuleSet::us, "earth-upsizing");
  const double grows = ruling.apply(
      "earth-upsizing", 1,
      fmt::format(
          "Conductors grew from {} to {} for the voltage drop: the earth conductor grows {:.3g} times.",
          least.size, phase.size, ratio),
      rule.citation);
  return grows > 0 ? earth_at_least(earth.area_kcmil * ratio, &phase) : earth;
}

std::expected<std::string, std::string> earth_by_user(RuleSet rules, double area_mm2) {
  for (const ConductorSize& one : conductor_sizes(rules)) {
    if (reaches(one.area_mm2, area_mm2)) return one.size;
  }
  return Failure(fmt::format("no earth conductor of {:g} mm2 in the tables", area_mm2));
}

std::expected<std::string, std::string> earth_of(const ConductorCase& in, const ConductorSize& least,
                                                 const ConductorSize& phase, Ruling& ruling) {
  const auto by_table = earth_size(in.rules, in.device_a, phase.area_mm2);
  const ConductorSize* earth = by_table ? named(in.rules, by_table->size) : nullptr;
  if (!earth)
    return Failure(fmt::format("no earth conductor in the table for a device of {:g} A", in.device_a));
  const ConductorSize& largest = in.rules == RuleSet::us ? least : phase;
  if (earth->area_mm2 > largest.area_mm2) earth = &largest;
  const double area_mm2 =
      ruling.apply("earth-conductor", earth->area_mm2,
                   fmt::format("Earth conductor {} for a device of {:g} A and conductors of {}.", earth->size,
                               in.device_a, largest.size),
                   by_table->citation);
  if (ruling.overridden("earth-conductor")) return earth_by_user(in.rules, area_mm2);
  if (in.rules == RuleSet::us && phase.size != least.size) earth = &grown(*earth, least, phase, ruling);
  return earth->size;
}

void explain_drop(const ConductorCase& in, const Demand& need, const ConductorSize& phase, double drop_v,
                  Ruling& ruling) {
  ruling.say(in.one_way_m > 0
                 ? fmt::format("{} over {} drops {:.3g} V, {:.3g} %.", phase.size,
                               shown_length(in.rules, in.one_way_m), drop_v, kPercent * drop_v / in.voltage_v)
                 : "No length is stated: the voltage drop is not counted.",
             resistance_of(in, need, phase).citation, "drop");
}

double most_drop_frac(const ConductorCase& in, Ruling& ruling) {
  const std::string_view id = in.feeder ? "voltage-drop-feeder" : "voltage-drop-branch";
  if (!in.max_drop_frac || ruling.overridden(id)) return ruling.apply(id);
  ruling.say(fmt::format("Voltage drop of at most {:.3g} % asked for.", kPercent * *in.max_drop_frac),
             circuit_rule(in.rules, id).citation, id);
  return *in.max_drop_frac;
}

using Index = std::expected<std::size_t, std::string>;

Index grown_for_drop(const ConductorCase& in, const Demand& need, std::size_t from, Ruling& ruling) {
  const double most_frac = most_drop_frac(in, ruling);
  const auto chosen = by_drop(in, need, from, most_frac * in.voltage_v);
  if (chosen) return *chosen;
  return Failure(fmt::format("no {} conductor of the tables keeps {:.4g} A over {} within {:.3g} %", in.make,
                             in.load_a, shown_length(in.rules, in.one_way_m), kPercent * most_frac));
}

Index stated(const ConductorCase& in, std::size_t least) {
  const auto sizes = conductor_sizes(in.rules);
  const auto found = std::ranges::find(sizes, in.stated_size, &ConductorSize::size);
  const auto index = static_cast<std::size_t>(found - sizes.begin());
  if (index >= least) return index;
  return Failure(fmt::format("conductors of {} are stated where the rules ask for {}", in.stated_size,
                             sizes[least].size));
}

}  // namespace

std::expected<ConductorSizing, std::string> size_conductor(const ConductorCase& input,
                                                           std::span<const Override> overrides) {
  require_sensible(input);
  Ruling ruling(input.rules, overrides);
  const auto need = demand_of(input, ruling);
  if (!need) return Failure(need.error());
  const auto first = by_current(input, *need, ruling);
  if (!first)
    return Failure(fmt::format("no {} conductor of the tables serves {:.4g} A behind {:g} A", input.make,
                               input.load_a, input.device_a));
  const auto sizes = conductor_sizes(input.rules);
  const ConductorSize& least = sizes[*first];
  explain_current(input, *need, least, *carried(input, *need, ruling, least), ruling);
  explain_small(input, least, ruling);
  const auto chosen =
      input.stated_size.empty() ? grown_for_drop(input, *need, *first, ruling) : stated(input, *first);
  if (!chosen) return Failure(chosen.error());
  const ConductorSize& phase = sizes[*chosen];
  const double drop_v = drop_of(input, *need, phase);
  explain_drop(input, *need, phase, drop_v, ruling);
  auto earth = earth_of(input, least, phase, ruling);
  if (!earth) return Failure(earth.error());
  return ConductorSizing{
      phase.size, *std::move(earth),        carried(input, *need, ruling, phase)->usable_a(),
      drop_v,     drop_v / input.voltage_v, resistance_of(input, *need, phase).value,
      least.size, ruling.reasons()};
}

FeederDrop feeder_drop(const FeederCase& input, std::span<const Override> overrides) {
  if (!(input.voltage_v > 0 && input.current_a >= 0 && input.one_way_m >= 0))
    throw std::logic_error("feeder_drop: voltage must be positive, current and length not negative");
  Ruling ruling(input.rules, overrides);
  const CitedNumber r = resistance_ohm_per_m(input.rules, input.size, input.make, input.conductor_c);
  FeederDrop drop;
  drop.drop_v = loop_drop_v(r.value, input.current_a, input.one_way_m, input.three_phase);
  drop.drop_frac = drop.drop_v / input.voltage_v;
  drop.total_frac = drop.drop_frac + input.branch_drop_frac;
  ruling.say(fmt::format("{}, {}, {:.4g} ohm/km at {:g} °C: {:.4g} A over {} drop {:.4g} V, {:.3g} %.",
                         input.size, input.make, r.value * 1000, input.conductor_c, input.current_a,
                         shown_length(input.rules, input.one_way_m), drop.drop_v, kPercent * drop.drop_frac),
             r.citation, "drop");
  drop.within_feeder = drop.drop_frac <= ruling.apply("voltage-drop-feeder");
  drop.within_total = drop.total_frac <= ruling.apply("voltage-drop-total");
  drop.reasons = ruling.reasons();
  return drop;
}

}  // namespace firstdraw::rules
