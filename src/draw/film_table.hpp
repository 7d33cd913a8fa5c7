// Flowing film of one kind of bore over flow and temperature, tabulated: the engine asks for it at every
// change of flow.
#pragma once

#include <map>
#include <memory>
#include <vector>

namespace firstdraw::draw {

class FilmTable {
 public:
  FilmTable(double inner_diameter_m, double length_m);
  /// W/(m2 K), between the points of the table; held beyond its ends (0.5 ml/s to 16 l/s, 0 to 90 degC).
  double film_w_per_m2_k(double flow_m3_per_s, double water_c) const;

 private:
  std::vector<double> film_;
};

/// Tables shared by runs of the same bore and (within a tenth) the same length.
class FilmTables {
 public:
  const FilmTable& of(double inner_diameter_m, double length_m);

 private:
  std::map<std::pair<double, int>, std::unique_ptr<FilmTable>> tables_;
};

}  // namespace firstdraw::draw
