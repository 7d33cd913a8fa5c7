// Reading the members of a JSON object strictly: every slip is collected with its field, and a member that
// nobody asked for is one.
#pragma once

#include <cstdint>
#include <expected>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/diagnostic.hpp"

namespace firstdraw::serve {

template <class T>
using Read = std::expected<T, std::vector<job::Diagnostic>>;

inline constexpr std::size_t longest_text = 20'000;

class Fields {
 public:
  /// `place`: "changes[2]"; empty at the top.
  Fields(const nlohmann::json& object, std::string place, std::vector<job::Diagnostic>& problems);

  std::string text(const char* key);  // required
  std::string text_or(const char* key, std::string_view otherwise);
  std::optional<std::string> maybe_text(const char* key);
  std::string word(const char* key, const std::vector<std::string>& choices);    // required
  std::int64_t integer(const char* key, std::int64_t least, std::int64_t most);  // required
  std::optional<std::int64_t> maybe_integer(const char* key, std::int64_t least, std::int64_t most);
  std::optional<double> maybe_number(const char* key, double least, double most);
  std::optional<bool> maybe_flag(const char* key);
  std::vector<std::string> texts(const char* key, bool required);
  std::map<std::string, std::string> text_map(const char* key);  // required
  /// Objects of a list; empty when there is none and it need not be.
  std::vector<const nlohmann::json*> objects(const char* key, bool required, std::size_t most = 5000);
  const nlohmann::json* maybe_object(const char* key);

  /// Complains of members that nobody asked for, with the nearest that are known.
  void finish();

  std::string field(const char* key) const;
  void complain(const char* key, std::string message, std::string hint = "");

 private:
  const nlohmann::json* find(const char* key, bool required);
  const nlohmann::json& object_;
  std::string place_;
  std::vector<job::Diagnostic>& problems_;
  std::vector<std::string> asked_;
};

/// A JSON object, or one problem that says where the text breaks off.
Read<nlohmann::json> read_object(std::string_view text);
std::map<std::string, std::string> text_map_of(const nlohmann::json& object, const std::string& place,
                                               std::vector<job::Diagnostic>& problems);

}  // namespace firstdraw::serve
