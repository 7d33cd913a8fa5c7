#include "physics/inactivation.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "physics/interpolate.hpp"
#include "tables/table.hpp"

namespace firstdraw::physics {
namespace {

struct Points {
  std::vector<double> temp_c, decimal_reduction_s;
};

/// The sets point into `points`, which therefore never moves.
struct Sets {
  std::vector<Points> points;
  std::vector<InactivationSet> sets;
};

void add_once(std::string& list, const std::string& text) {
  if (list.find(text) != std::string::npos) return;
  if (!list.empty()) list += "; ";
  list += text;
}

void add_point(Points& points, double temp_c, double decimal_reduction_s) {
  const bool later = !points.temp_c.empty();
  if (later && (temp_c <= points.temp_c.back() || decimal_reduction_s >= points.decimal_reduction_s.back())) {
    throw std::logic_error("legionella_inactivation.csv: temperatures rise and times fall within a set");
  }
  points.temp_c.push_back(temp_c);
  points.decimal_reduction_s.push_back(decimal_reduction_s);
}

Sets read_sets() {
  Sets out;
  for (const auto& row : tables::table("legionella_inactivation").rows()) {
    if (out.sets.empty() || out.sets.back().id != row.text("set")) {
      out.sets.emplace_back().id = row.text("set");
      out.points.emplace_back();
    }
    add_once(out.sets.back().source, row.text("source"));
    add_once(out.sets.back().basis, row.text("basis"));
    add_point(out.points.back(), row.number("temp_c"), 60 * row.number("decimal_reduction_min"));
  }
  for (std::size_t i = 0; i < out.sets.size(); ++i) {
    if (out.points[i].temp_c.size() < 2) throw std::logic_error("legionella_inactivation.csv: a lone point");
    out.sets[i].temp_c = out.points[i].temp_c;
    out.sets[i].decimal_reduction_s = out.points[i].decimal_reduction_s;
  }
  return out;
}

}  // namespace

std::span<const InactivationSet> inactivation_sets() {
  static const Sets built = read_sets();
  return built.sets;
}

double decimal_reduction_s(const InactivationSet& set, double water_c) {
  if (!(water_c >= set.temp_c.front())) return std::numeric_limits<double>::infinity();
  const std::size_t i = piece_of(set.temp_c, water_c);
  const double share = (water_c - set.temp_c[i]) / (set.temp_c[i + 1] - set.temp_c[i]);
  const double from = set.decimal_reduction_s[i], to = set.decimal_reduction_s[i + 1];
  return from * std::pow(to / from, share);
}

}  // namespace firstdraw::physics
