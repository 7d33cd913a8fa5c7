#include "job/csv_reader.hpp"

#include <fmt/format.h>

namespace firstdraw::job {

namespace {

bool holds_letter(std::string_view text) {
  return std::ranges::any_of(text, [](char c) { return (c >= 'a' && c <= 'z' && c != 'x') || c == '"'; });
}

}  // namespace

std::string column_name(std::string_view text) {
  std::string name;
  for (const char c : text) {
    const bool gap = c == ' ' || c == '-' || c == '_';
    if (gap && (name.empty() || name.back() == '_')) continue;
    name += gap ? '_' : (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  }
  while (!name.empty() && name.back() == '_') name.pop_back();
  return name;
}

CsvReader::CsvReader(const tables::CsvText& csv, std::string_view file, std::string thing,
                     std::vector<Key> keys, Context& context)
    : csv_(csv), file_(file), thing_(std::move(thing)), context_(context) {
  for (auto& key : keys) slots_.push_back({std::move(key), -1, {}, false, 0, {}, {}});
  match_header();
}

void CsvReader::match_header() {
  for (std::size_t column = 0; column < csv_.header.size(); ++column) {
    match_heading(static_cast<int>(column), csv_.header[column]);
  }
  const int line = csv_.header.empty() ? 1 : csv_.header.front().line;
  for (const auto& slot : slots_) {
    if (slot.column >= 0 || !slot.key.required || slot.spoiled) continue;
    context_.problem({file_, line, 0}, slot.key.name, "this column is missing", "add it to the first line");
  }
}

void CsvReader::match_heading(int column, const tables::CsvCell& heading) {
  const Where at{file_, heading.line, heading.column};
  const auto [written, unit] = tables::split_heading(heading.text);
  const std::string name = column_name(written);
  const auto slot =
      std::ranges::find(slots_, name, [](const Slot& s) { return std::string_view(s.key.name); });
  if (slot == slots_.end()) {
    std::vector<std::string> names;
    for (const auto& known : slots_) names.push_back(known.key.name);
    const auto near = units::nearest(name, names);
    context_.problem(
        at, heading.text, "is not a known column",
        near ? fmt::format("did you mean \"{}\"?", *near) : fmt::format("known: {}", one_of(names)));
    if (near) std::ranges::find(slots_, *near, [](const Slot& s) { return s.key.name; })->spoiled = true;
    return;
  }
  if (slot->column >= 0) return context_.problem(at, name, "this column is there twice");
  slot->column = column;
  if (unit.empty()) return;
  if (!slot->key.has_unit) return context_.problem(at, name, "this column takes no unit");
  slot->unit = unit;
  const auto one = units::to_si(1, unit, slot->key.kind);
  if (one) return;
  context_.problem(at, name, one.error());
  slot->column = -1;  // its cells are not to blame
  slot->spoiled = true;
}

bool CsvReader::next() {
  forget_ragged_cells();
  row_ += started_ ? 1 : 0;
  started_ = true;
  next_slot_ = 0;
  row_id_.clear();
  if (row_ >= csv_.rows.size()) return false;
  judge_width();
  return true;
}

void CsvReader::judge_width() {
  const auto& row = csv_.rows[row_];
  const std::size_t wanted = csv_.header.size();
  const auto filled = [](const tables::CsvCell& cell) { return !cell.text.empty(); };
  const bool spills = row.size() > wanted &&
                      std::any_of(row.begin() + static_cast<std::ptrdiff_t>(wanted), row.end(), filled);
  if (row.size() >= wanted && !spills) return;
  context_.problem(where_row(), thing_,
                   fmt::format("{} cells, but the first line names {}", row.size(), wanted),
                   "check the separators and put text that holds one in quotes");
  ragged_from_ = context_.problems.size();
}

void CsvReader::forget_ragged_cells() {
  if (ragged_from_) context_.problems.resize(*ragged_from_);
  ragged_from_.reset();
}

CsvReader::Slot& CsvReader::slot() { return slots_.at(next_slot_++); }

const tables::CsvCell* CsvReader::cell(const Slot& slot) const {
  const auto& row = csv_.rows[row_];
  if (slot.column < 0 || static_cast<std::size_t>(slot.column) >= row.size()) return nullptr;
  const auto& cell = row[static_cast<std::size_t>(slot.column)];
  return cell.text.empty() ? nullptr : &cell;
}

int CsvReader::line() const {
  const auto& row = csv_.rows[row_];
  return row.empty() ? 0 : row.front().line;
}

Where CsvReader::where_row() const { return {file_, line(), 0}; }

Where CsvReader::where(const Slot& slot) const {
  const auto& row = csv_.rows[row_];
  if (slot.column < 0 || static_cast<std::size_t>(slot.column) >= row.size()) return where_row();
  const auto& cell = row[static_cast<std::size_t>(slot.column)];
  return {file_, cell.line, cell.column};
}

Where CsvReader::where(std::string_view key) const {
  const auto slot =
      std::ranges::find(slots_, key, [](const Slot& s) { return std::string_view(s.key.name); });
  return slot == slots_.end() ? where_row() : where(*slot);
}

std::string CsvReader::field(std::string_view key) const {
  if (row_id_.empty()) return fmt::format("{} · {}", thing_, key);
  return fmt::format("{} {} · {}", thing_, row_id_, key);
}

void CsvReader::problem(const Slot& slot, std::string message, std::string hint) {
  context_.problem(where(slot), field(slot.key.name), std::move(message), std::move(hint));
}

void CsvReader::row_problem(std::string_view key, std::string message, std::string hint) {
  context_.problem(where(key), field(key), std::move(message), std::move(hint));
}

void CsvReader::id(std::string_view, std::string& value, Target target) {
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text)
    return left_out(here, value, Need<std::string>{}, [](const std::string& shown) { return shown; });
  if (auto wrong = wrong_id(text->text)) return problem(here, *wrong);
  value = row_id_ = text->text;
  context_.add_id(target, value, where(here), field(here.key.name));
}

void CsvReader::node(std::string_view, std::string& value) {
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text)
    return left_out(here, value, Need<std::string>{}, [](const std::string& shown) { return shown; });
  if (auto wrong = wrong_id(text->text)) return problem(here, *wrong);
  value = text->text;
  context_.add_node(value);
}

void CsvReader::text(std::string_view, std::string& value, const Need<std::string>& need) {
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text) return left_out(here, value, need, [](const std::string& shown) { return shown; });
  value = text->text;
}

void CsvReader::known(std::string_view key, std::string& value, const std::vector<std::string>& names,
                      const Need<std::string>& need) {
  const Slot& here = slots_.at(next_slot_);
  text(key, value, need);
  if (!cell(here) || std::ranges::find(names, value) != names.end()) return;
  problem(here, fmt::format("\"{}\" is not known; expected {}", value, one_of(names)),
          did_you_mean(value, names));
}

std::optional<std::string_view> CsvReader::bare_unit(const Slot& slot) const {
  if (slot.unit.empty()) return std::nullopt;
  return slot.unit;
}

void CsvReader::quantity(std::string_view, double& value, Kind kind, const Range& range,
                         const Need<double>& need) {
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text) {
    return left_out(here, value, need,
                    [&](double shown) { return units::show(shown, kind, context_.system); });
  }
  const auto read = read_quantity(text->text, kind, bare_unit(here), range);
  if (!read) return problem(here, read.error());
  value = *read;
}

void CsvReader::optional_quantity(std::string_view, std::optional<double>& value, Kind kind,
                                  const Range& range) {
  const Slot& here = slot();
  const auto* text = cell(here);
  if (!text) return;
  const auto read = read_quantity(text->text, kind, bare_unit(here), range);
  if (!read) return problem(here, read.error());
  value = *read;
}

void CsvReader::integer(std::string_view, int& value, const Range& range, const Need<int>& need) {
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text) return left_out(here, value, need, [](int shown) { return std::to_string(shown); });
  const auto read = read_integer(text->text, range);
  if (!read) return problem(here, read.error());
  value = *read;
}

void CsvReader::optional_integer(std::string_view, std::optional<int>& value, const Range& range) {
  const Slot& here = slot();
  const auto* text = cell(here);
  if (!text) return;
  const auto read = read_integer(text->text, range);
  if (!read) return problem(here, read.error());
  value = *read;
}

void CsvReader::flag(std::string_view, bool& value, const Need<bool>& need) {
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text) return left_out(here, value, need, [](bool shown) { return std::string(shown ? "yes" : "no"); });
  const auto read = read_flag(text->text);
  if (!read) return problem(here, read.error());
  value = *read;
}

void CsvReader::refer(const Slot& slot, const std::string& id, Target target) {
  if (!context_.knows(target, id)) context_.unknown(target, id, where(slot), field(slot.key.name));
}

void CsvReader::reference(std::string_view key, std::string& value, Target target,
                          const Need<std::string>& need) {
  const Slot& here = slots_.at(next_slot_);
  text(key, value, need);
  if (cell(here)) refer(here, value, target);
}

void CsvReader::optional_reference(std::string_view, std::optional<std::string>& value, Target target) {
  const Slot& here = slot();
  const auto* text = cell(here);
  if (!text) return;
  value = text->text;
  refer(here, *value, target);
}

const Read<physics::Pipe>& CsvReader::find_pipe(const std::string& material, const std::string& type,
                                                const std::string& size) {
  const std::string key = material + '\n' + type + '\n' + size;
  const auto known = pipes_.find(key);
  if (known != pipes_.end()) return known->second;
  return pipes_.emplace(key, physics::find_pipe(material, type, size)).first->second;
}

void CsvReader::pipe(std::string_view, physics::Pipe& pipe) {
  std::string material, type, size;
  const std::size_t first_slot = next_slot_;
  const Slot& size_slot = slots_.at(first_slot + 2);
  text("material", material, needed);
  text("type", type, blank);
  text("size", size, needed);
  if (material.empty() || size.empty()) return;
  if (!size_slot.unit.empty() && !holds_letter(size)) size += " " + size_slot.unit;
  const auto& found = find_pipe(material, type, size);
  if (found) {
    pipe = *found;
    return;
  }
  // The message says which of the three cells is to blame.
  const bool material_wrong = found.error().starts_with("unknown pipe material");
  const bool type_wrong = found.error().starts_with("unknown type");
  problem(slots_.at(first_slot + (material_wrong ? 0 : type_wrong ? 1 : 2)), found.error());
}

void CsvReader::insulation(std::string_view, std::string& id, const Need<std::string>& need) {
  Slot& here = slot();
  const auto* text = cell(here);
  if (!text) return left_out(here, id, need, [](const std::string& shown) { return shown; });
  auto known = insulations_.find(text->text);
  if (known == insulations_.end()) {
    const auto found = physics::find_insulation(text->text);
    Read<std::string> read = found ? Read<std::string>(found->id) : std::unexpected(found.error());
    known = insulations_.emplace(text->text, std::move(read)).first;
  }
  if (!known->second) return problem(here, known->second.error());
  id = *known->second;
}

void CsvReader::finish() {
  for (const auto& slot : slots_) {
    if (slot.assumed_rows == 0) continue;
    const char* plural = slot.assumed_rows == 1 ? "" : "s";
    context_.assume(fmt::format("{}s.{}", thing_, slot.key.name),
                    fmt::format("{} ({} {}{})", slot.assumed_value, slot.assumed_rows, thing_, plural),
                    slot.why);
  }
}

}  // namespace firstdraw::job
