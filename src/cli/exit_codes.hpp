// What the program tells the shell. Printed by `--help`; docs/guide/exit-codes.md.
#pragma once

#include <array>
#include <string_view>

namespace firstdraw::cli {

enum class ExitCode : int {
  ok = 0,
  stop_finding = 1,
  wrong_command_line = 2,
  job_unreadable = 3,
  cannot_write = 4,
  internal_error = 70,  // EX_SOFTWARE of sysexits.h
  interrupted = 130,    // as shells report SIGINT
};

struct ExitCodeMeaning {
  ExitCode code;
  std::string_view meaning;
};

inline constexpr std::array<ExitCodeMeaning, 7> exit_code_meanings{{
    {ExitCode::ok, "done; no open finding says stop"},
    {ExitCode::stop_finding,
     "done, and everything asked for was written, but a finding says stop and nobody accepted it"},
    {ExitCode::wrong_command_line, "the command line is wrong"},
    {ExitCode::job_unreadable, "the job, a data sheet or a log cannot be read"},
    {ExitCode::cannot_write, "the result cannot be written"},
    {ExitCode::internal_error, "a fault of the program itself: please report it"},
    {ExitCode::interrupted, "stopped by Ctrl-C: what was done until then is complete, and says so"},
}};

}  // namespace firstdraw::cli
