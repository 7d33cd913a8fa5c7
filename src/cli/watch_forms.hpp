// What `firstdraw watch` can do: one function per form, each in watch_<name>.cpp; command_watch.cpp calls
// them.
#pragma once

#include "cli/program.hpp"

namespace firstdraw::cli {

void add_watch_import(Program& program, CLI::App* watch);
void add_watch_report(Program& program, CLI::App* watch);
void add_watch_estimate(Program& program, CLI::App* watch);
void add_watch_schedule(Program& program, CLI::App* watch);
void add_watch_poll(Program& program, CLI::App* watch);

}  // namespace firstdraw::cli
