// What `firstdraw record` was asked, as typed; empty where nothing was given.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "cli/store_input.hpp"

namespace firstdraw::cli {

struct RecordCommand {
  std::string folder{};
  StoreOptions store{};
  // What is recorded: one of these.
  std::string readings{}, revision{}, photo{}, sign_off{}, accept{}, action{}, note{};
  // What goes with it.
  std::string who{}, at{}, place{}, why{}, words{}, statement{};
  std::vector<std::string> instruments{};
  std::optional<std::int64_t> corrects{};
  // Or what is looked at.
  bool list = false;
  std::string kind{};
  std::optional<std::int64_t> show{}, restore{};
  std::string out{};
};

}  // namespace firstdraw::cli
