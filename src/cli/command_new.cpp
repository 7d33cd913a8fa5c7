// `firstdraw new`: a commented template to start from.
#include <fmt/format.h>

#include <memory>

#include "cli/program.hpp"
#include "job/folder.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw new riverside", "a folder called riverside with a small building to overwrite"},
    {"firstdraw new riverside && firstdraw check riverside",
     "it is complete: it checks, plans and packs as it stands"},
};

ExitCode run(const std::string& folder, const Context& context) {
  const auto written = job::write_template(folder);
  if (!written) return context.fail(ExitCode::cannot_write, written.error());
  if (context.json()) {
    context.print(nlohmann::json{{"folder", folder}});
    return ExitCode::ok;
  }
  Page page = context.page();
  page.paragraph(fmt::format("A new job is in {}. What to do next:", folder));
  page.paragraph("fill in job.toml, then runs.csv and outlets.csv (a spreadsheet will do)", "  1. ");
  page.paragraph("put the data sheets of the cables you may buy into catalog/", "  2. ");
  page.paragraph(fmt::format("firstdraw check {}", folder), "  3. ");
  page.caution(
      "the template's building, cable and prices are invented: replace every value before you design with "
      "it.");
  context.print(page);
  return ExitCode::ok;
}

}  // namespace

void add_new(Program& program) {
  CLI::App* command = program.add_command("new", "start a job folder with a commented template", examples);
  const auto folder = std::make_shared<std::string>();
  command->add_option("DIR", *folder, "folder to make; it must not exist or be empty")->required();
  program.when_called(command, [folder](Context& context) { return run(*folder, context); });
}

}  // namespace firstdraw::cli
