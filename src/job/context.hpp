// What reading a job folder collects on its way: problems, assumptions, and the names that others may refer
// to.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "job/diagnostic.hpp"
#include "job/job.hpp"

namespace firstdraw::job {

/// What a name in the folder can lead to.
enum class Target { level, space, panel, group, cable, run, outlet, node, profile, circuit };
inline constexpr std::size_t target_count = 10;
std::string_view to_string(Target target);

/// A spot in a file; line and column count from 1, 0 is "all of it".
struct Where {
  std::string_view file;
  int line = 0, column = 0;
};

class Context {
 public:
  std::vector<Diagnostic> problems;
  std::vector<Assumption> assumptions;
  units::System system = units::System::us;

  void problem(Where where, std::string field, std::string message, std::string hint = {});
  void assume(std::string field, std::string value, std::string why);
  /// One assumption for all sections of a list ("group.main.method", "group.east.method") that took the same
  /// value for the same key, among those made since there were `first`: "groups.method".
  void join_alike(std::string_view list, std::size_t sections, std::size_t first);

  /// Makes `id` known. A second use of the same id of the same kind is a problem.
  void add_id(Target target, const std::string& id, Where where, const std::string& field);
  /// Makes a node known; nodes are named by many runs.
  void add_node(const std::string& id);
  bool knows(Target target, const std::string& id) const;
  /// Names of this kind so far, in the order they were met.
  const std::vector<std::string>& names(Target target) const { return names_[index(target)]; }
  /// Reports a name that leads nowhere, with the nearest known one.
  void unknown(Target target, const std::string& id, Where where, std::string field);
  /// The nearest known name, or all of a few; empty when many names have led nowhere already.
  std::string nearest_hint(Target target, const std::string& id);
  /// Takes every name of this kind for known, because the file that lists them could not be read.
  void trust(Target target) { trusted_[index(target)] = true; }
  bool trusts(Target target) const { return trusted_[index(target)]; }
  /// A reference that can only be judged when every file has been read.
  void refer_later(Target target, const std::string& id, Where where, std::string field);
  void settle_references();

 private:
  struct Later {
    Target target;
    std::string id;
    std::string file;
    int line, column;
    std::string field;
  };
  static std::size_t index(Target target) { return static_cast<std::size_t>(target); }

  std::array<std::unordered_map<std::string, int>, target_count> line_of_;
  std::array<std::vector<std::string>, target_count> names_;  // in the order they were met
  std::array<int, target_count> misses_{};
  std::array<bool, target_count> trusted_{};
  std::vector<Later> later_;
};

/// "did you mean "shaft"?" for the known name nearest to `word`; empty when none is near.
std::string did_you_mean(std::string_view word, const std::vector<std::string>& known);
/// "a, b or c".
std::string one_of(const std::vector<std::string>& names);

}  // namespace firstdraw::job
