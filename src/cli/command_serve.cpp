// `firstdraw serve`: the page, for this machine and, when asked, for the network.
#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <memory>
#include <thread>

#include "cli/program.hpp"
#include "cli/stop_signals.hpp"
#include "serve/place.hpp"
#include "serve/server.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw serve riverside", "the page of one job, in the browser of this machine"},
    {"firstdraw serve jobs", "every job of a folder; new ones begin there"},
    {"firstdraw serve jobs --lan", "also for phones and tablets in the local network, once they are paired"},
    {"firstdraw serve jobs --no-open --port 9000", "no browser is opened, and the port is this one or none"},
    {"firstdraw serve jobs --store postgresql://user@host/records", "records of all jobs in one database"},
};

struct ServeCommand {
  std::string what, store, cert, key, page;
  int port = 8450;
  bool port_given = false, no_open = false, lan = false;
  int threads = 2;
};

std::string store_of(const ServeCommand& command, const serve::Place& place) {
  if (!command.store.empty()) return command.store;
  if (!place.store.empty()) return place.store;
  const char* set = std::getenv("FIRSTDRAW_STORE");
  return set == nullptr ? "" : set;
}

serve::ServerOptions options_of(const ServeCommand& command, const serve::Place& place) {
  serve::ServerOptions options;
  options.house.place = place.folder;
  options.house.state = serve::state_folder();
  options.house.store = store_of(command, place);
  options.house.version = version;
  options.house.lan = command.lan;
  options.house.threads = command.threads;
  options.port = command.port;
  options.port_given = command.port_given;
  options.cert = command.cert;
  options.key = command.key;
  if (!command.page.empty()) options.page = command.page;
  return options;
}

/// Shows the address in the desktop's browser; a machine without one shows nothing.
void open_browser(const std::string& address) {
  const pid_t child = fork();
  if (child == 0) {
    if (fork() != 0) _exit(0);  // not to be waited for
    if (std::freopen("/dev/null", "w", stdout) == nullptr ||
        std::freopen("/dev/null", "w", stderr) == nullptr)
      _exit(1);
    execlp("xdg-open", "xdg-open", address.c_str(), static_cast<char*>(nullptr));
    _exit(1);
  }
  if (child > 0) waitpid(child, nullptr, 0);
}

void say_where(const serve::Server& server, serve::House& house, const Context& context) {
  const bool lan = !server.lan_address().empty();
  if (context.json()) {
    nlohmann::json json{{"address", server.address()}, {"jobs", house.jobs.ids()}};
    if (lan) json["lan"] = {{"address", server.lan_address()}, {"fingerprint", house.fingerprint}};
    context.print(json);
    return;
  }
  Page page = context.page();
  page.facts({{"The page", server.address()}});
  if (lan) {
    page.facts({{"In the network", server.lan_address()}, {"Certificate", house.fingerprint}});
    page.paragraph(
        "compare the certificate's SHA-256 on the device before you accept it; the code that pairs a "
        "device is on the page of this machine, under Devices.");
  }
  page.paragraph("Ctrl-C ends it. Every edit and record is on the disk already.", "", Style::dim);
  context.print(page);
}

ExitCode run(const ServeCommand& command, Context& context) {
  if (command.cert.empty() != command.key.empty())
    return context.fail(
        ExitCode::wrong_command_line,
        {complaint("--cert", "a certificate and its key go together", "--cert FILE --key FILE")});
  const auto place = serve::find_place(command.what);
  if (!place) return context.fail(ExitCode::wrong_command_line, {place.error()});
  StopSignals signals;
  auto server = serve::Server::open(options_of(command, *place));
  if (!server) return context.fail(ExitCode::cannot_write, {complaint("", server.error())});
  say_where(**server, (*server)->house(), context);
  std::cout.flush();  // before it serves for hours
  signals.wait_for([&server] { (*server)->stop(); });
  if (!command.no_open) open_browser((*server)->address());
  (*server)->run();
  return ExitCode::ok;
}

void ask_network(CLI::App* command, ServeCommand& serve) {
  command->option_defaults()->group("From the local network");
  CLI::Option* lan = command->add_flag(
      "--lan", serve.lan, "also for paired devices in the local network, by TLS, on the next port");
  command->add_option("--cert", serve.cert, "certificate in PEM; one of its own if not given")
      ->type_name("FILE")
      ->needs(lan);
  command->add_option("--key", serve.key, "its private key in PEM")->type_name("FILE")->needs(lan);
}

}  // namespace

void add_serve(Program& program) {
  CLI::App* command = program.add_command(
      "serve", "the page: draw, change, simulate, test and hand over in the browser", examples);
  const auto serve = std::make_shared<ServeCommand>();
  command->add_option(
      "WHAT", serve->what,
      "a job folder, a folder of jobs (made if missing), or a store of records; the current folder "
      "if not given");
  command
      ->add_option_function<int>(
          "--port",
          [serve](int port) {
            serve->port = port;
            serve->port_given = port != 0;
          },
          "port on this machine, 0: any; 8450 or the next free one if not given")
      ->type_name("N")
      ->check(CLI::Range(0, 65534));
  command->add_flag("--no-open", serve->no_open, "open no browser");
  command
      ->add_option("--store", serve->store,
                   "where records are kept: a file, or postgresql://user@host/database; the variable "
                   "FIRSTDRAW_STORE, else JOB/records.db if not given")
      ->type_name("WHERE");
  command->add_option("--threads", serve->threads, "threads that plan and simulate")
      ->type_name("N")
      ->check(CLI::Range(1, 64));
  command->add_option("--page", serve->page, "show the page of this folder, for whoever works on it")
      ->type_name("FOLDER");
  ask_network(command, *serve);
  program.when_called(command, [serve](Context& context) { return run(*serve, context); });
}

}  // namespace firstdraw::cli
