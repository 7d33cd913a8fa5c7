#include "cli/app.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

#include "cli/program.hpp"

namespace firstdraw::cli {

void add_serve(Program& program);  // command_serve.cpp

namespace {

/// The command line could not be read, but errors must still come in the form that was asked for.
CommonOptions options_as_written(const std::vector<std::string>& arguments) {
  CommonOptions options;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    const std::string next = i + 1 < arguments.size() ? arguments[i + 1] : "";
    options.json |= word == "--json" || word == "--format=json" || (word == "--format" && next == "json");
    if (word.starts_with("--color=")) options.colour = word.substr(8);
    if (word == "--color") options.colour = next;
  }
  return options;
}

const CLI::App& called_command(const CLI::App& app) {
  const std::vector<const CLI::App*> called =
      app.get_subcommands([](const CLI::App* command) { return command->parsed(); });
  return called.empty() ? app : called_command(*called.front());
}

std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  return names;
}

std::vector<std::string> command_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : commands_of(app)) names.push_back(command->get_name());
  return names;
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& known,
                         const std::string& otherwise) {
  const auto near = units::nearest(word, known);
  return near ? fmt::format("did you mean {}?", *near) : otherwise;
}

job::Diagnostic unexpected(const CLI::App& app, const std::vector<std::string>& extras) {
  const CLI::App& command = called_command(app);
  const auto option =
      std::ranges::find_if(extras, [](const std::string& word) { return word.starts_with("-"); });
  if (option != extras.end()) {
    const std::string name = option->substr(0, option->find('='));
    const std::string help =
        fmt::format("firstdraw{}{} --help lists them", &command == &app ? "" : " ", full_name(command));
    return complaint(name, "there is no such option", did_you_mean(name, option_names(command), help));
  }
  const std::string& word = extras.front();
  if (&command != &app && commands_of(command).empty())
    return complaint(word, fmt::format("one argument too many for firstdraw {}", full_name(command)));
  const std::string name = &command == &app ? "" : full_name(command) + " ";
  return complaint(
      word, "there is no such command",
      did_you_mean(word, command_names(command), fmt::format("firstdraw {}--help lists them", name)));
}

job::Diagnostic what_is_wrong(CLI::App& app, const CLI::ParseError& error) {
  const std::vector<std::string> extras = app.remaining(true);
  if (!extras.empty()) return unexpected(app, extras);
  const std::string text = error.what();
  const std::size_t colon = text.find(": ");
  if (text.starts_with("-") && colon != std::string::npos) {
    return complaint(text.substr(0, colon), text.substr(colon + 2));
  }
  const CLI::App& command = called_command(app);
  return complaint("", text,
                   &command == &app ? "" : fmt::format("firstdraw {} --help shows how", full_name(command)));
}

ExitCode show_version(const Context& context) {
  if (context.json()) {
    context.print(nlohmann::json{{"program", "firstdraw"}, {"version", version}});
  } else {
    context.print(fmt::format("firstdraw {}\n", version));
  }
  return ExitCode::ok;
}

ExitCode act(Program& program, bool wants_version, Context& context) {
  if (wants_version) return show_version(context);
  if (program.action()) return program.action()(context);
  if (context.json())
    return context.fail(ExitCode::wrong_command_line, {complaint("", "a command is missing")});
  context.err() << program.app().help();
  return ExitCode::wrong_command_line;
}

ExitCode finish(ExitCode code, std::ostream& out, std::ostream& err) {
  out.flush();
  if (out) return code;
  err << "firstdraw: cannot write the result to standard output\n";
  return ExitCode::cannot_write;
}

ExitCode parse_and_act(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
                       const Surroundings& surroundings) {
  const CommonOptions written = options_as_written(arguments);
  const Terminal first_look = terminal_for(surroundings, colour_choice(written));
  Program program(first_look.width, first_look.colour);
  bool wants_version = false;
  program.app().add_flag("--version", wants_version, "the program's version");
  for (const auto add :
       {add_new,      add_check,   add_plan,   add_circuits, add_simulate, add_replay,     add_week,
        add_watch,    add_archive, add_pack,   add_loss,     add_cable,    add_expect,     add_tests,
        add_diagnose, add_record,  add_verify, add_serve,    add_explain,  add_completion, add_help}) {
    add(program);
  }
  try {
    program.app().parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
  } catch (const CLI::Success&) {
    out << program.app().help();
    return ExitCode::ok;
  } catch (const CLI::ParseError& error) {
    return Context(out, err, first_look, written)
        .fail(ExitCode::wrong_command_line, {what_is_wrong(program.app(), error)});
  }
  Context context(out, err, terminal_for(surroundings, colour_choice(program.common())), program.common());
  return act(program, wants_version, context);
}

}  // namespace

ExitCode guarded(const Context& context, const std::function<ExitCode()>& work) {
  try {
    return work();
  } catch (const std::exception& fault) {
    const std::string message = fmt::format("a fault of the program itself: {}", fault.what());
    return context.fail(ExitCode::internal_error,
                        {complaint("", message, "please report it, with the command and the job folder")});
  }
}

int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
        const Surroundings& surroundings) {
  const CommonOptions written = options_as_written(arguments);
  const Context context(out, err, terminal_for(surroundings, colour_choice(written)), written);
  const ExitCode code = guarded(context, [&] { return parse_and_act(arguments, out, err, surroundings); });
  return static_cast<int>(finish(code, out, err));
}

}  // namespace firstdraw::cli
