#include "physics/pipe_tables.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

#include "physics/names.hpp"
#include "tables/table.hpp"

namespace firstdraw::physics {
namespace {

constexpr std::array dn_sizes{
    std::pair{10, 0.375}, std::pair{15, 0.5},  std::pair{20, 0.75}, std::pair{25, 1.0}, std::pair{32, 1.25},
    std::pair{40, 1.5},   std::pair{50, 2.0},  std::pair{65, 2.5},  std::pair{80, 3.0}, std::pair{90, 3.5},
    std::pair{100, 4.0},  std::pair{125, 5.0}, std::pair{150, 6.0}, std::pair{200, 8.0}};

/// Takes pieces off the front of a text without allocating.
class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) { skip_blanks(); }

  bool at_end() const { return text_.empty(); }

  bool take(std::string_view word) {
    if (text_.size() < word.size()) return false;
    for (std::size_t i = 0; i < word.size(); ++i) {
      const char c = text_[i];
      if ((c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c) != word[i]) return false;
    }
    text_.remove_prefix(word.size());
    skip_blanks();
    return true;
  }

  std::optional<double> number() {
    if (text_.empty() || text_.front() < '0' || text_.front() > '9') return std::nullopt;
    double value = 0;
    const auto [end, error] =
        std::from_chars(text_.data(), text_.data() + text_.size(), value, std::chars_format::fixed);
    if (error != std::errc()) return std::nullopt;
    text_.remove_prefix(static_cast<std::size_t>(end - text_.data()));
    return value;
  }

  void skip_blanks() {
    while (!text_.empty() && (text_.front() == ' ' || text_.front() == '\t')) text_.remove_prefix(1);
  }

 private:
  std::string_view text_;
};

/// "3/4", "1-1/4", "1 1/4", "1.25"
std::optional<double> read_mixed(Reader& reader) {
  auto whole = reader.number();
  if (!whole) return std::nullopt;
  double numerator = *whole, value = 0;
  if (!reader.take("/")) {
    reader.skip_blanks();
    Reader ahead = reader;
    ahead.take("-");
    const auto top = ahead.number();
    if (!top || !ahead.take("/")) return whole;
    value = *whole;
    numerator = *top;
    reader = ahead;
  }
  const auto denominator = reader.number();
  reader.skip_blanks();
  if (!denominator || *denominator == 0) return std::nullopt;
  return value + numerator / *denominator;
}

std::optional<PipeSize> read_dn(Reader reader) {
  const auto value = reader.number();
  reader.skip_blanks();
  if (!value || !reader.at_end()) return std::nullopt;
  const auto* found = std::ranges::find(dn_sizes, *value, [](const auto& dn) { return dn.first; });
  if (found == dn_sizes.end()) return std::nullopt;
  return PipeSize{.metric = false, .value = found->second, .wall_mm = std::nullopt};
}

bool take_times(Reader& reader) { return reader.take("x") || reader.take("\xC3\x97") || reader.take("*"); }

const std::string& basis_note(const tables::Row& row) {
  static const std::string memory = " [memory]", none;
  return row.text("basis") == "memory" && !row.text("source").contains("recalled") ? memory : none;
}

Pipe read_material(const tables::Row& row) {
  Pipe pipe;
  pipe.material = row.text("material");
  pipe.conductivity_w_per_m_k = row.number("conductivity_w_per_m_k");
  pipe.density_kg_per_m3 = row.number("density_kg_per_m3");
  pipe.heat_capacity_j_per_kg_k = row.number("heat_capacity_j_per_kg_k");
  pipe.max_c = row.number("max_c");
  pipe.source = row.text("source") + "; highest temperature: " + row.text("max_c_source");
  return pipe;
}

class Builder {
 public:
  PipeTables build() {
    read_materials();
    for (const char* name : {"pipes_copper_b88", "pipes_copper_en1057", "pipes_steel", "pipes_plastic"}) {
      for (const auto& row : tables::table(name).rows()) add(row);
    }
    index();
    return std::move(out_);
  }

 private:
  void read_materials() {
    for (const auto& row : tables::table("pipe_materials").rows()) {
      Pipe pipe = read_material(row);
      out_.materials.push_back(pipe.material);
      std::vector<std::string> names = split_names(row.text("aliases"));
      names.push_back(pipe.material);
      for (auto& name : names) {
        out_.material_names.emplace(folded(name), pipe.material);
        out_.material_words.push_back(std::move(name));
      }
      properties_.emplace(pipe.material, std::move(pipe));
    }
  }

  void add(const tables::Row& row) {
    Pipe pipe = properties_.at(row.text("material"));
    pipe.type = row.text("type");
    pipe.size = row.text("size");
    pipe.outer_diameter_m = 1e-3 * row.number("outer_diameter_mm");
    pipe.wall_m = 1e-3 * row.number("wall_mm");
    pipe.source = row.text("source") + basis_note(row) + "; " + pipe.source;
    const bool metric = row.text("unit") == "mm";
    const auto size = read_pipe_size(pipe.size);
    if (!size || size->metric != metric) throw std::logic_error("pipe tables: size " + pipe.size);
    open_family(pipe, metric);
    out_.nominal.push_back(size->value);
    out_.usual.push_back(row.text("usual") == "yes");
    out_.pipes.push_back(std::move(pipe));
    out_.families.back().last = out_.pipes.size();
  }

  void open_family(const Pipe& pipe, bool metric) {
    const auto& families = out_.families;
    if (!families.empty() && families.back().material == pipe.material && families.back().type == pipe.type)
      return;
    out_.families.push_back({pipe.material, pipe.type, metric, out_.pipes.size(), out_.pipes.size()});
  }

  void index() {
    for (std::size_t f = 0; f < out_.families.size(); ++f) {
      const PipeFamily& family = out_.families[f];
      for (std::size_t i = family.first; i < family.last; ++i) {
        const double wall_mm = 1e3 * out_.pipes[i].wall_m;
        if (!family.metric) {
          out_.by_size.emplace(PipeTables::size_key(f, out_.nominal[i], 0), i);
          continue;
        }
        out_.by_size.emplace(PipeTables::size_key(f, out_.nominal[i], wall_mm), i);
        if (out_.usual[i]) out_.by_size.emplace(PipeTables::size_key(f, out_.nominal[i], 0), i);
      }
    }
  }

  PipeTables out_;
  std::map<std::string, Pipe> properties_;
};

}  // namespace

std::optional<PipeSize> read_pipe_size(std::string_view text) {
  Reader reader(text);
  if (reader.take("dn")) return read_dn(reader);
  reader.take("nps");
  const auto value = read_mixed(reader);
  if (!value) return std::nullopt;
  reader.skip_blanks();
  PipeSize size{.metric = false, .value = *value, .wall_mm = std::nullopt};
  const bool inches = reader.take("inches") || reader.take("inch") || reader.take("in.") ||
                      reader.take("in") || reader.take("\"");
  size.metric = !inches && reader.take("mm");
  if (!inches && take_times(reader)) {
    size.metric = true;
    size.wall_mm = reader.number();
    if (!size.wall_mm) return std::nullopt;
    reader.skip_blanks();
    reader.take("mm");
  }
  if (!reader.at_end()) return std::nullopt;
  return size;
}

std::uint64_t PipeTables::size_key(std::size_t family, double value, double wall_mm) {
  const auto thousandths = [](double number) {
    return static_cast<std::uint64_t>(std::llround(1000 * number));
  };
  return (static_cast<std::uint64_t>(family) << 50) | (thousandths(value) << 20) | thousandths(wall_mm);
}

const PipeTables& pipe_tables() {
  static const PipeTables built = Builder().build();
  return built;
}

}  // namespace firstdraw::physics
