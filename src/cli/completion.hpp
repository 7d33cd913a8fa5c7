// Shell completion, made from the command line itself so that it cannot fall behind.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace firstdraw::cli {

/// Scripts to source: commands, their options, the choices of an option, folders and files elsewhere.
std::string bash_completion(const CLI::App& app);
std::string zsh_completion(const CLI::App& app);
std::string fish_completion(const CLI::App& app);

}  // namespace firstdraw::cli
