// Values of job.toml as people type them, and back.
#pragma once

#include <expected>
#include <string>
#include <vector>

#include "desk/toml_sheet.hpp"

namespace firstdraw::desk {

/// What a cell shows: text without its quotes, numbers and flags as they are spelt, lists with commas
/// between.
std::string shown(const TomlSheet& sheet, const toml::node& node);
/// The value as TOML, as the column's kind wants it and, where it can, written as `old` is. Fails with what
/// was expected.
std::expected<std::string, std::string> toml_value(const Column& column, const std::string& typed,
                                                   const TomlSheet& sheet, const toml::node* old);

/// "R-1, R-2", "R-1; R-2": what stands between commas, or between semicolons when there is one.
std::vector<std::string> split_list(const std::string& typed);
/// So that split_list gives the same again.
std::string join_list(const std::vector<std::string>& items);
/// Without blanks and line ends around it.
std::string trimmed(std::string_view text);

}  // namespace firstdraw::desk
