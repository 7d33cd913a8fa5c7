// The body of an edit: changes by their `do`.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "serve/bodies.hpp"
#include "units/quantity.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;
using Problems = std::vector<job::Diagnostic>;

desk::Change set_cell(Fields& f) {
  return desk::SetCell{f.text("table"), f.text("row"), f.text("column"), f.text("to"), f.maybe_text("was")};
}
desk::Change add_row(Fields& f) {
  return desk::AddRow{f.text("table"), f.text_map("cells"), f.maybe_text("after")};
}
desk::Change remove_row(Fields& f) { return desk::RemoveRow{f.text("table"), f.text("row")}; }
desk::Change rename(Fields& f) { return desk::Rename{f.text("table"), f.text("row"), f.text("to")}; }
desk::Change add_riser(Fields& f) {
  return desk::AddRiser{f.text("from_node"), f.texts("to_levels", true), f.text_or("like", ""),
                        f.text("size")};
}
desk::Change copy_level(Fields& f) {
  return desk::CopyLevel{f.text("from_level"), f.text("to_level"), f.text("name"), f.text("elevation"),
                         f.text("feed_node")};
}
desk::Change split_run(Fields& f) {
  return desk::SplitRun{f.text("run"), f.text("at"), f.text_or("node", "")};
}
desk::Change move_outlet(Fields& f) { return desk::MoveOutlet{f.text("outlet"), f.text("node")}; }
desk::Change paste(Fields& f) {
  return desk::Paste{f.text("table"), f.text("row"), f.text("column"), f.text("text")};
}

struct Kind {
  std::string_view name;
  desk::Change (*read)(Fields&);
};
constexpr std::array<Kind, 9> kinds{{{"set", set_cell},
                                     {"add", add_row},
                                     {"remove", remove_row},
                                     {"rename", rename},
                                     {"add-riser", add_riser},
                                     {"copy-level", copy_level},
                                     {"split-run", split_run},
                                     {"move-outlet", move_outlet},
                                     {"paste", paste}}};

std::optional<desk::Change> change_of(const json& object, std::size_t number, Problems& problems) {
  Fields fields(object, fmt::format("changes[{}]", number), problems);
  std::vector<std::string> names;
  for (const Kind& kind : kinds) names.emplace_back(kind.name);
  const std::string what = fields.word("do", names);
  const auto kind = std::ranges::find(kinds, what, &Kind::name);
  if (kind == kinds.end()) return std::nullopt;
  desk::Change change = kind->read(fields);
  fields.finish();
  return change;
}

}  // namespace

Read<desk::Edit> read_edit(std::string_view body) {
  const auto object = read_object(body);
  if (!object) return std::unexpected(object.error());
  Problems problems;
  desk::Edit edit;
  Fields fields(*object, "", problems);
  edit.base = fields.integer("base", 0, INT64_MAX);
  edit.label = fields.text("label");
  std::size_t number = 0;
  for (const json* change : fields.objects("changes", true)) {
    if (auto read = change_of(*change, number++, problems)) edit.changes.push_back(*std::move(read));
  }
  fields.finish();
  if (problems.empty() && edit.changes.empty()) fields.complain("changes", "there is no change");
  if (!problems.empty()) return std::unexpected(std::move(problems));
  return edit;
}

}  // namespace firstdraw::serve
