#include "paper/field_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace firstdraw::paper {
namespace {

std::string spaced(std::string_view name) {
  std::string text(name);
  std::ranges::replace(text, '-', ' ');
  return text;
}

std::string in_groups(std::string_view text, std::size_t size) {
  std::string grouped;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i > 0 && i % size == 0) grouped += ' ';
    grouped += text[i];
  }
  return grouped;
}

}  // namespace

std::string value_text(const Show& show, const prove::Reading& reading) {
  if (!reading.text.empty()) return reading.text;
  if (prove::is_yes_no(reading.what)) return reading.value > 0.5 ? "yes" : "no";
  if (reading.what == prove::What::trip_current || reading.what == prove::What::leakage_current)
    return fmt::format("{:.3g} mA", reading.value * 1000);
  if (reading.what == prove::What::trip_time) return fmt::format("{:.3g} ms", reading.value * 1000);
  const std::optional<units::Kind> kind = prove::help_of(reading.what).kind;
  if (reading.what == prove::What::duty) return percent(reading.value);
  const std::string value =
      kind ? show.with_unit(reading.value, *kind) : fmt::format("{:.4g}", reading.value);
  return reading.at_least ? "over " + value : value;
}

std::string what_text(prove::What what) { return spaced(prove::name_of(what)); }
std::string stage_text(prove::Stage stage) { return spaced(prove::name_of(stage)); }

std::string grade_text(prove::Grade grade) {
  switch (grade) {
    case prove::Grade::pass:
      return "pass";
    case prove::Grade::doubt:
      return "? doubt";
    case prove::Grade::fail:
      return "! FAIL";
  }
  return "";
}

prove::Grade worse(prove::Grade a, prove::Grade b) { return std::max(a, b); }

std::string moment_text(std::string_view at) {
  std::string text(at.substr(0, 16));
  std::ranges::replace(text, 'T', ' ');
  return text;
}

std::string instrument_text(const prove::Instrument& instrument) {
  std::string text = instrument.name;
  if (!instrument.serial.empty()) text += (text.empty() ? "no. " : ", no. ") + instrument.serial;
  if (!instrument.calibration_due.empty())
    text += (text.empty() ? "calibrated until " : ", calibrated until ") + instrument.calibration_due;
  return text;
}

std::string short_hash(std::string_view hash) { return in_groups(hash.substr(0, 16), 4); }
std::string long_hash(std::string_view hash) { return in_groups(hash, 8); }
bool is_corrected(const std::vector<store::Record>& records, std::int64_t number) {
  return std::ranges::any_of(records, [number](const store::Record& r) { return r.corrects == number; });
}
std::string kind_text(store::RecordKind kind) { return spaced(store::name_of(kind)); }

}  // namespace firstdraw::paper
