#include "desk/draft.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "desk/toml_value.hpp"
#include "job/csv_reader.hpp"
#include "tables/csv.hpp"

namespace firstdraw::desk {

namespace {

const std::string& job_file() {
  static const std::string name = "job.toml";
  return name;
}

std::string unit_of(std::string_view heading) { return std::string(tables::split_heading(heading).unit); }

/// A new column's heading: with the unit that numbers are shown in. A plain number is a share already.
std::string heading_of(const Column& column, units::System system) {
  const auto kind = kind_of(column);
  if (column.kind != "quantity" || !kind || *kind == units::Kind::fraction) return column.key;
  return fmt::format("{} ({})", column.key, units::display_unit(*kind, system));
}

}  // namespace

Draft::Draft(const JobText& text) : text_(text) {
  for (const TableKind& kind : table_kinds())
    if (kind.csv) read_csv(kind);
  const auto file = text.find(job_file());
  if (file == text.end()) {
    toml_broken_ = job::Diagnostic{job_file(), 0, 0, "", "the job folder has no such file", ""};
  } else if (auto sheet = TomlSheet::parse(file->second)) {
    toml_ = std::move(*sheet);
  } else {
    toml_broken_ = job::Diagnostic{job_file(),
                                   sheet.error().line,
                                   sheet.error().column,
                                   "",
                                   fmt::format("is not TOML here: {}", sheet.error().message),
                                   "mend the file in a text editor"};
  }
  read_setting();
}

void Draft::read_csv(const TableKind& kind) {
  CsvFile& file = csv_[kind.name];
  const auto text = text_.find(kind.file);
  if (text == text_.end()) return;
  auto sheet = CsvSheet::parse(text->second);
  if (!sheet) {
    file.broken = job::Diagnostic{kind.file, sheet.error().line,    sheet.error().column,
                                  "",        sheet.error().message, "mend the file in a text editor"};
    return;
  }
  file.sheet = std::move(*sheet);
  for (const auto& heading : file.sheet->headings())
    file.names.push_back(job::column_name(tables::split_heading(heading).name));
}

void Draft::read_setting() {
  setting_.cables.clear();
  for (const auto& [name, text] : text_)
    if (name.starts_with("catalog/") && name.ends_with(".toml"))
      setting_.cables.push_back(name.substr(8, name.size() - 13));
  const auto word = [&](const char* section, const char* key) {
    const auto* node = toml_ ? toml_->value(section, 0, key) : nullptr;
    return node ? node->value_or(std::string()) : std::string();
  };
  setting_.system = word("units", "show") == "metric" ? units::System::metric : units::System::us;
  setting_.rules = word("rules", "set") == "intl" ? rules::RuleSet::intl : rules::RuleSet::us;
}

JobText Draft::text() const {
  JobText text = text_;
  for (const TableKind& kind : table_kinds())
    if (kind.csv && csv(kind).changed) text[kind.file] = csv(kind).sheet->text();
  if (toml_) text[job_file()] = toml_->text();
  return text;
}

const job::Diagnostic* Draft::broken(const TableKind& kind) const {
  const auto& problem = kind.csv ? csv(kind).broken : toml_broken_;
  return problem ? &*problem : nullptr;
}

const std::vector<Column>& Draft::columns(const TableKind& kind) {
  const auto known = columns_.find(kind.name);
  if (known != columns_.end()) return known->second;
  auto& columns = columns_[kind.name] = columns_of(kind.name, setting_);
  if (!kind.csv || !csv(kind).sheet) return columns;
  for (std::size_t i = 0; i < csv(kind).names.size(); ++i) {
    const auto column = std::ranges::find(columns, csv(kind).names[i], &Column::key);
    if (column != columns.end()) column->unit = unit_of(csv(kind).sheet->headings()[i]);
  }
  return columns;
}

std::size_t Draft::rows(const TableKind& kind) const {
  if (kind.csv) return csv(kind).sheet ? csv(kind).sheet->rows() : 0;
  return kind.many ? (toml_ ? toml_->rows(kind.name) : 0) : 1;
}

std::string Draft::id_cell(const TableKind& kind, std::size_t row) {
  const auto& first = columns(kind).front();
  return first.kind == "id" ? cell(kind, row, first.key).value_or("") : std::string();
}

const std::vector<std::string>& Draft::ids(const TableKind& kind) {
  const auto known = ids_.find(kind.name);
  if (known != ids_.end()) return known->second;
  auto& ids = ids_[kind.name];
  auto& places = places_[kind.name];
  for (std::size_t row = 0; row < rows(kind); ++row) {
    std::string id = kind.many ? id_cell(kind, row) : std::string();
    if (kind.many && (id.empty() || places.contains(id))) id = fmt::format("#{}", row + 1);
    places.emplace(id, row);
    ids.push_back(std::move(id));
  }
  return ids;
}

std::optional<std::size_t> Draft::find_row(const TableKind& kind, const std::string& id) {
  ids(kind);
  const auto& places = places_[kind.name];
  const auto found = places.find(id);
  return found == places.end() ? std::nullopt : std::optional(found->second);
}

std::optional<std::string> Draft::cell(const TableKind& kind, std::size_t row, const std::string& column) {
  if (!kind.csv) {
    const auto* node = toml_ ? toml_->value(kind.name, row, column) : nullptr;
    return node ? std::optional(shown(*toml_, *node)) : std::nullopt;
  }
  const CsvFile& file = csv(kind);
  const auto name = std::ranges::find(file.names, column);
  if (!file.sheet || name == file.names.end()) return std::nullopt;
  const auto text = file.sheet->cell(row, static_cast<std::size_t>(name - file.names.begin()));
  return text.empty() ? std::nullopt : std::optional(std::string(text));
}

Cells Draft::cells(const TableKind& kind, std::size_t row) {
  Cells all;
  if (!kind.csv) {
    if (!toml_) return all;
    for (const auto& key : toml_->keys(kind.name, row))
      all[key] = shown(*toml_, *toml_->value(kind.name, row, key));
    return all;
  }
  const CsvFile& file = csv(kind);
  for (std::size_t i = 0; file.sheet && i < file.names.size(); ++i)
    if (const auto text = file.sheet->cell(row, i); !text.empty()) all.emplace(file.names[i], text);
  return all;
}

Draft::Lines Draft::lines(const TableKind& kind, std::size_t row) const {
  if (kind.csv) {
    const auto lines = csv(kind).sheet->lines(row);
    return {lines.first, lines.last};
  }
  if (!toml_) return {};
  const auto lines = toml_->lines(kind.name, row);
  return {lines.first, lines.last};
}

std::size_t Draft::need_column(const TableKind& kind, const Column& column) {
  CsvFile& file = csv(kind);
  const auto name = std::ranges::find(file.names, column.key);
  if (name != file.names.end()) return static_cast<std::size_t>(name - file.names.begin());
  const std::string heading = heading_of(column, setting_.system);
  file.sheet->add_heading(heading);
  file.names.push_back(column.key);
  const auto known = std::ranges::find(columns_[kind.name], column.key, &Column::key);
  if (known != columns_[kind.name].end()) known->unit = unit_of(heading);
  return file.names.size() - 1;
}

std::expected<void, std::string> Draft::set(const TableKind& kind, std::size_t row, const Column& column,
                                            const std::string& text) {
  const auto now = cell(kind, row, column.key);
  if (now.value_or("") == text) return {};
  if (column.kind == "id") forget_ids(kind);
  if (kind.csv) {
    csv(kind).sheet->set(row, need_column(kind, column), text);
    csv(kind).changed = true;
    return {};
  }
  if (text.empty()) {
    drop(kind, row, column.key);
    return {};
  }
  const auto value = toml_value(column, text, *toml_, toml_->value(kind.name, row, column.key));
  if (!value) return std::unexpected(value.error());
  if (toml_->rows(kind.name) == 0) {
    toml_->add_section(kind.name, {{column.key, *value}});
  } else {
    toml_->set(kind.name, row, {column.key, *value});
  }
  if (kind.name == "units" || kind.name == "rules") read_setting(), columns_.clear();
  return {};
}

void Draft::drop(const TableKind& kind, std::size_t row, const std::string& key) {
  if (!kind.csv && toml_) toml_->erase(kind.name, row, key);
}

std::expected<void, std::string> Draft::insert_toml(const TableKind& kind, std::size_t at,
                                                    const Cells& cells) {
  std::vector<TomlPair> pairs;
  for (const Column& column : columns(kind)) {
    const auto cell = cells.find(column.key);
    if (cell == cells.end() || cell->second.empty()) continue;
    const auto value = toml_value(column, cell->second, *toml_, nullptr);
    if (!value) return std::unexpected(fmt::format("{}: {}", column.key, value.error()));
    pairs.push_back({column.key, *value});
  }
  toml_->insert_row(kind.name, at, pairs);
  return {};
}

std::expected<void, std::string> Draft::insert(const TableKind& kind, std::size_t at, const Cells& cells) {
  forget_ids(kind);
  if (!kind.csv) return insert_toml(kind, at, cells);
  CsvFile& file = csv(kind);
  file.changed = true;
  const auto filled = [&](const Column& column) {
    const auto cell = cells.find(column.key);
    return cell != cells.end() && !cell->second.empty();
  };
  const std::vector<Column> all = columns(kind);  // need_column changes the units of the others
  if (!file.sheet) file.sheet = CsvSheet::with_headings({});
  const bool fresh = file.names.empty();
  for (const Column& column : all)
    if (filled(column) || (fresh && column.required)) need_column(kind, column);
  file.sheet->insert(at);
  for (const Column& column : all)
    if (filled(column)) file.sheet->set(at, need_column(kind, column), cells.at(column.key));
  return {};
}

void Draft::erase(const TableKind& kind, std::size_t row) {
  forget_ids(kind);
  if (kind.csv) {
    csv(kind).sheet->erase(row);
    csv(kind).changed = true;
  } else if (toml_) {
    toml_->erase_row(kind.name, row);
  }
}

}  // namespace firstdraw::desk
