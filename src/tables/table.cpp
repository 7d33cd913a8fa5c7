#include "tables/table.hpp"

#include <fmt/format.h>

#include <charconv>
#include <limits>
#include <memory>
#include <mutex>
#include <stdexcept>

const std::map<std::string_view, std::string_view>& embedded_tables();

namespace firstdraw::tables {

namespace {

constexpr std::string_view kSuffix = ".csv";

std::unique_ptr<const Table> read_embedded(std::string_view name) {
  const auto file = embedded_tables().find(std::string(name) + std::string(kSuffix));
  if (file == embedded_tables().end()) throw std::logic_error(fmt::format("no built-in table \"{}\"", name));
  auto csv = read_csv(file->second);
  if (!csv) {
    const CsvError& error = csv.error();
    throw std::logic_error(fmt::format("{}.csv:{}:{}: {}", name, error.line, error.column, error.message));
  }
  return std::make_unique<const Table>(*std::move(csv));
}

std::vector<std::string> texts(std::vector<CsvCell>&& cells) {
  std::vector<std::string> out;
  out.reserve(cells.size());
  for (CsvCell& cell : cells) out.push_back(std::move(cell.text));
  return out;
}

}  // namespace

const std::string& Row::text(std::string_view column) const {
  for (std::size_t i = 0; i < header_->size(); ++i) {
    if ((*header_)[i] == column) return (*cells_)[i];
  }
  throw std::logic_error(fmt::format("built-in table without column \"{}\"", column));
}

double Row::number_or_nan(std::string_view column) const {
  const std::string& cell = text(column);
  if (cell.empty()) return std::numeric_limits<double>::quiet_NaN();
  double value = 0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc{} || end != cell.data() + cell.size()) {
    throw std::logic_error(fmt::format("built-in table: \"{}\" in column \"{}\" is no number", cell, column));
  }
  return value;
}

double Row::number(std::string_view column) const {
  if (text(column).empty())
    throw std::logic_error(fmt::format("built-in table: empty cell in column \"{}\"", column));
  return number_or_nan(column);
}

Table::Table(CsvText csv) : header_(texts(std::move(csv.header))) {
  for (auto& row : csv.rows) {
    if (row.size() != header_.size()) {
      throw std::logic_error(fmt::format("built-in table, line {}: {} cells under {} columns", row[0].line,
                                         row.size(), header_.size()));
    }
    cells_.push_back(texts(std::move(row)));
  }
}

std::vector<Row> Table::rows() const {
  std::vector<Row> out;
  out.reserve(cells_.size());
  for (const auto& cells : cells_) out.emplace_back(&header_, &cells);
  return out;
}

const Table& table(std::string_view name) {
  static std::mutex mutex;
  static std::map<std::string, std::unique_ptr<const Table>, std::less<>> kept;
  const std::scoped_lock lock(mutex);
  auto found = kept.find(name);
  if (found == kept.end()) found = kept.emplace(std::string(name), read_embedded(name)).first;
  return *found->second;
}

std::vector<std::string> table_names() {
  std::vector<std::string> names;
  for (const auto& [file, text] : embedded_tables()) {
    names.emplace_back(file.substr(0, file.size() - kSuffix.size()));
  }
  return names;
}

}  // namespace firstdraw::tables
