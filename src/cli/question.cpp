#include "cli/question.hpp"

#include <fmt/format.h>

#include <utility>

namespace firstdraw::cli {
namespace {

// Beyond these the question is a slip, not a hot-water pipe.
constexpr double coldest_c = -50, hottest_c = 250;

std::string_view trim(std::string_view text, std::string_view what) {
  const std::size_t first = text.find_first_not_of(what);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(what) - first + 1);
}

/// The text before and after the thickness it names, wherever that stands.
struct Split {
  std::string_view name, thickness;
};

std::optional<Split> split_thickness(std::string_view text) {
  const std::size_t digit = text.find_first_of("0123456789");
  if (digit == std::string_view::npos) return std::nullopt;
  const std::size_t start = digit > 0 && text[digit - 1] == '.' ? digit - 1 : digit;
  if (start > 0) return Split{trim(text.substr(0, start), " ,"), text.substr(start)};
  // The thickness comes first: take the longest start that reads as one.
  for (std::size_t end = text.rfind(' '); end != std::string_view::npos && end > 0;
       end = text.rfind(' ', end - 1)) {
    const Split split{trim(text.substr(end), " ,"), text.substr(0, end)};
    if (units::parse(split.thickness, units::Kind::size)) return split;
  }
  return std::nullopt;
}

}  // namespace

void Question::slip(std::string_view option, std::string_view message, std::string_view hint) {
  slips_.push_back(complaint(option, message, hint));
}

double Question::quantity(std::string_view option, std::string_view text, units::Kind kind) {
  if (text.starts_with("--")) {
    slip(option, fmt::format("its value is missing before {}", text));
    return 0;
  }
  const auto value = units::parse(text, kind);
  if (value) return *value;
  slip(option, value.error());
  return 0;
}

double Question::quantity_within(std::string_view option, std::string_view text, units::Kind kind,
                                 double least, double most, std::string_view range) {
  const std::size_t before = slips_.size();
  const double value = quantity(option, text, kind);
  if (slips_.size() == before && !(value >= least && value <= most)) {
    slip(option, fmt::format("\"{}\" is out of range; expected {}", text, range));
  }
  return value;
}

double Question::temperature_c(std::string_view option, std::string_view text) {
  return quantity_within(option, text, units::Kind::temperature, coldest_c, hottest_c,
                         "-50 to 250 °C (-58 to 482 °F)");
}

double Question::speed_m_per_s(std::string_view option, std::string_view text) {
  const std::size_t slash = text.rfind('/');
  const std::string_view way = text.substr(0, slash);
  const auto length_m = units::parse(way, units::Kind::length);
  const auto time_s = slash == std::string_view::npos
                          ? std::unexpected(std::string())
                          : units::to_si(1, trim(text.substr(slash + 1), " "), units::Kind::duration);
  if (length_m && time_s && *length_m >= 0 && *length_m <= 30 * *time_s) return *length_m / *time_s;
  slip(option,
       fmt::format("\"{}\" is no air speed from 0 to 30 m/s; write it like 0.5 m/s or 100 ft/min", text));
  return 0;
}

physics::Pipe Question::pipe(std::string_view option, std::string_view text) {
  const auto pipe = physics::find_pipe(text);
  if (pipe) return *pipe;
  slip(option, pipe.error());
  return {};
}

std::optional<Question::Insulated> Question::insulation(std::string_view option, std::string_view text) {
  text = trim(text, " ");
  if (text == "none" || text == "bare") return std::nullopt;
  const auto split = split_thickness(text);
  const auto insulation = physics::find_insulation(split ? split->name : text);
  if (!insulation) {
    slip(option, insulation.error());
    return std::nullopt;
  }
  if (!split) {
    slip(option, fmt::format("\"{}\" lacks a thickness; write it like \"{} 1 in\" or \"{} 25 mm\"", text,
                             text, text));
    return std::nullopt;
  }
  const double thickness_m =
      quantity_within(option, split->thickness, units::Kind::size, 0.001, 0.5, "a thickness of 1 to 500 mm");
  return Insulated{*insulation, thickness_m};
}

units::System system_of_temperature(std::string_view text) {
  text = trim(text, " ");
  const bool fahrenheit = text.ends_with('F') || text.ends_with('f') || text.ends_with("ahrenheit");
  return fahrenheit ? units::System::us : units::System::metric;
}

}  // namespace firstdraw::cli
