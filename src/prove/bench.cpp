#include "prove/bench.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "prove/reading_cells.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using units::Kind;

template <class Items>
int index_by_id(const Items& items, std::string_view id) {
  const auto found = std::ranges::find_if(items, [id](const auto& item) { return item.id == id; });
  return found == items.end() ? piping::none : static_cast<int>(found - items.begin());
}

bool is_small_current(What what) { return what == What::trip_current || what == What::leakage_current; }

/// Three figures, no zeros at the end.
std::string error_shown(const Bench& bench, What what, double abs) {
  const Kind kind = *help_of(what).kind;
  if (kind == Kind::temperature) return bench.kelvin(abs);
  return bench.value(what, abs);
}

}  // namespace

const power::Circuit* Bench::circuit(std::string_view id) const {
  const int index = circuit_index(id);
  return index == piping::none ? nullptr : &plan_.circuits[at(index)];
}
int Bench::circuit_index(std::string_view id) const { return index_by_id(plan_.circuits, id); }
const job::ControlGroup* Bench::group(std::string_view id) const {
  const int index = group_index(id);
  return index == piping::none ? nullptr : &job_.groups[at(index)];
}
int Bench::group_index(std::string_view id) const { return index_by_id(job_.groups, id); }
int Bench::run_index(std::string_view id) const { return index_by_id(job_.runs, id); }
const job::Panel& Bench::panel_of(const power::Circuit& circuit) const {
  return job_.panels[at(circuit.panel)];
}
const physics::CableSheet& Bench::sheet_of(const power::Circuit& circuit) const {
  return job_.cables[at(circuit.cable)];
}

std::string Bench::value(What what, double value) const {
  const auto& kind = help_of(what).kind;
  if (!kind) return value != 0 ? "yes" : "no";
  if (is_small_current(what) || (kind == Kind::current && std::abs(value) < 0.1))
    return fmt::format("{:.3g} mA", 1000 * value);
  if (what == What::trip_time && value < 1) return fmt::format("{:.3g} ms", 1000 * value);
  return show(value, *kind);
}

std::string Bench::value(const Reading& reading) const {
  if (is_text(reading.what)) return "\"" + reading.text + "\"";
  return (reading.at_least ? "more than " : "") + value(reading.what, reading.value);
}

std::string_view day_of(const Reading& reading) { return std::string_view(reading.at).substr(0, 10); }

bool same_visit(const Reading& a, const Reading& b) { return day_of(a) == day_of(b) && a.stage == b.stage; }

double instrument_error(const Reading& reading, double value) {
  const InstrumentError error = reading.instrument.error.value_or(usual_error(reading.what));
  return error.frac * std::abs(value) + error.abs;
}
double instrument_error(const Reading& reading) { return instrument_error(reading, reading.value); }

std::string instrument_sentence(const Bench& bench, const Reading& reading) {
  const InstrumentError error = reading.instrument.error.value_or(usual_error(reading.what));
  std::string text;
  if (error.frac > 0) text = fmt::format("±{:.2g} % of the reading", 100 * error.frac);
  if (error.abs > 0) text += (text.empty() ? "±" : " and ±") + error_shown(bench, reading.what, error.abs);
  if (text.empty()) text = "exactly";
  return text;
}

void count_instrument(const Bench& bench, const Reading& reading, Verdict& verdict) {
  if (!help_of(reading.what).kind) return;
  const Instrument& instrument = reading.instrument;
  const std::string name = instrument.name.empty() ? "the instrument" : instrument.name;
  verdict.expected.because.push_back(name + " is good to " + instrument_sentence(bench, reading));
  if (!instrument.error)
    verdict.assumed.push_back(fmt::format("no error of {} is given: {}, common practice, no source", name,
                                          instrument_sentence(bench, reading)));
  if (instrument.serial.empty())
    verdict.warnings.push_back("the serial number of the instrument is not on record");
  if (instrument.calibration_due.empty()) return;
  if (reading.at.empty()) {
    verdict.warnings.push_back(
        fmt::format("the reading has no date: whether the calibration (due {}) was valid cannot be said",
                    instrument.calibration_due));
  } else if (day_of(reading) > std::string_view(instrument.calibration_due)) {
    verdict.warnings.push_back(fmt::format("the calibration of {} was overdue: due {}, read {}", name,
                                           instrument.calibration_due, day_of(reading)));
  }
}

double Spread::likely() const { return std::sqrt(squares_); }

void grade_between(const Reading& reading, double reach, Verdict& verdict) {
  const auto& [least, most, usual, because] = verdict.expected;
  const double value = reading.value;
  if (reading.at_least) {  // only a lower bound is known
    if (value > most + reach)
      verdict.grade = Grade::fail;
    else
      verdict.grade = std::isinf(most) && value >= least ? Grade::pass : Grade::doubt;
  } else if (value >= least && value <= most) {
    verdict.grade = Grade::pass;
  } else {
    verdict.grade = value >= least - reach && value <= most + reach ? Grade::doubt : Grade::fail;
  }
}

void grade_around(const Reading& reading, double usual, const Spread& spread, Verdict& verdict) {
  verdict.expected.usual = usual;
  verdict.expected.least = usual - spread.likely();
  verdict.expected.most = usual + spread.likely();
  grade_between(reading, spread.worst() - spread.likely(), verdict);
}

void grade_at_least(const Reading& reading, double limit, Verdict& verdict) {
  verdict.expected.least = limit;
  const double error = reading.at_least ? 0 : instrument_error(reading);
  if (reading.value - error >= limit)
    verdict.grade = Grade::pass;
  else
    verdict.grade = reading.at_least || reading.value + error >= limit ? Grade::doubt : Grade::fail;
}

void grade_at_most(const Reading& reading, double limit, Verdict& verdict) {
  verdict.expected.most = limit;
  const double error = instrument_error(reading);
  if (reading.value + error <= limit && !reading.at_least)
    verdict.grade = Grade::pass;
  else
    verdict.grade = reading.value - error <= limit ? Grade::doubt : Grade::fail;
}

void no_expectation(Verdict& verdict, std::string said) {
  verdict.grade = Grade::pass;
  verdict.said = std::move(said);
}

void lower_to_doubt(Verdict& verdict, std::string suspect, std::string to_do) {
  if (verdict.grade != Grade::pass) return;
  verdict.grade = Grade::doubt;
  verdict.suspect = std::move(suspect);
  verdict.to_do = std::move(to_do);
}

}  // namespace firstdraw::prove
