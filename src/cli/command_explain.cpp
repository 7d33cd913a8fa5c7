// `firstdraw explain`: what a finding's id stands for.
#include <fmt/format.h>

#include <memory>

#include "cli/program.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw explain", "every check the program makes"},
    {"firstdraw explain hold-cold", "one of them"},
};

nlohmann::json to_json(const plan::FindingKind& kind) {
  return {{"id", kind.id}, {"severity", plan::to_string(kind.severity)}, {"title", kind.title}};
}

void show_all(const Context& context) {
  if (context.json()) {
    nlohmann::json json = nlohmann::json::array();
    for (const plan::FindingKind& kind : plan::finding_kinds()) json.push_back(to_json(kind));
    return context.print(nlohmann::json{{"finding_kinds", json}});
  }
  TextTable table({{"Id", ""}, {"Severity", ""}, {"What it says", "", Column::Kind::wrapping_text}});
  for (const plan::FindingKind& kind : plan::finding_kinds()) {
    table.add_row({{kind.id}, {plan::to_string(kind.severity)}, {kind.title}});
  }
  Page page = context.page();
  page.table(table);
  context.print(page);
}

void show_one(const plan::FindingKind& kind, const Context& context) {
  if (context.json()) return context.print(to_json(kind));
  Page page = context.page();
  page.facts({{"Finding", kind.id}, {"Severity", plan::to_string(kind.severity)}, {"Says", kind.title}});
  page.blank();
  page.paragraph(
      fmt::format("To accept it in one place, with a reason and a name, add to job.toml: [[accept]] with "
                  "finding = \"{}\", place, reason and name.",
                  kind.id));
  context.print(page);
}

ExitCode run(const std::string& id, const Context& context) {
  if (id.empty()) {
    show_all(context);
    return ExitCode::ok;
  }
  std::vector<std::string> ids;
  for (const plan::FindingKind& kind : plan::finding_kinds()) {
    if (kind.id == id) {
      show_one(kind, context);
      return ExitCode::ok;
    }
    ids.push_back(kind.id);
  }
  const auto near = units::nearest(id, ids);
  return context.fail(ExitCode::wrong_command_line, {complaint(id, "there is no such finding",
                                                               near ? fmt::format("did you mean {}?", *near)
                                                                    : "firstdraw explain lists them")});
}

}  // namespace

void add_explain(Program& program) {
  CLI::App* command = program.add_command("explain", "what a finding's id stands for", examples);
  const auto id = std::make_shared<std::string>();
  command->add_option("FINDING", *id,
                      "id of a finding, as check and plan print it; all of them if not given");
  program.when_called(command, [id](Context& context) { return run(*id, context); });
}

}  // namespace firstdraw::cli
