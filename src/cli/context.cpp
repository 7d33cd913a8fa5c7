#include "cli/context.hpp"

#include <fmt/format.h>

#include <ostream>

namespace firstdraw::cli {
namespace {

nlohmann::json to_json(const job::Diagnostic& error) {
  nlohmann::json json;
  if (!error.file.empty()) json["file"] = error.file;
  if (error.line > 0) json["line"] = error.line;
  if (error.column > 0) json["column"] = error.column;
  if (!error.field.empty()) json["field"] = error.field;
  json["message"] = error.message;
  if (!error.hint.empty()) json["hint"] = error.hint;
  return json;
}

}  // namespace

ColourChoice colour_choice(const CommonOptions& options) {
  if (options.colour == "always") return ColourChoice::always;
  return options.colour == "never" ? ColourChoice::never : ColourChoice::automatic;
}

std::optional<units::System> chosen_units(const CommonOptions& options) {
  if (options.units.empty()) return std::nullopt;
  return options.units == "us" ? units::System::us : units::System::metric;
}

void Context::print(const Page& page) const { print(page.text()); }

void Context::print(const std::string& text) const { out_ << text; }

void Context::print(const nlohmann::json& json) const {
  // A folder's name need not be UTF-8; JSON must be.
  out_ << json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) << '\n';
}

ExitCode Context::fail(ExitCode code, const Diagnostics& errors) const {
  if (json()) {
    print(nlohmann::json{{"errors", cli::to_json(errors)}});
    return code;
  }
  // One line each, never wrapped: editors and scripts look for "file:line:column:" at the start.
  for (const job::Diagnostic& error : errors) {
    if (error.file.empty()) err_ << paint("firstdraw: ", Style::red, terminal_.err_colour);
    err_ << printable(error.text()) << '\n';
  }
  if (errors.size() > 1) err_ << fmt::format("{} errors\n", errors.size());
  return code;
}

nlohmann::json to_json(const Diagnostics& errors) {
  nlohmann::json json = nlohmann::json::array();
  for (const job::Diagnostic& error : errors) json.push_back(to_json(error));
  return json;
}

job::Diagnostic complaint(std::string_view option, std::string_view message, std::string_view hint) {
  job::Diagnostic diagnostic;
  diagnostic.field = option;
  diagnostic.message = message;
  diagnostic.hint = hint;
  return diagnostic;
}

}  // namespace firstdraw::cli
