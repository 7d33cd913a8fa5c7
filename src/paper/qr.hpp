// QR codes on labels, drawn as rectangles, and what they say. docs/formats/label-codes.md.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/job.hpp"
#include "paper/ink.hpp"

namespace firstdraw::paper {

/// What the code of a circuit says: "firstdraw:2026-031/C07". Project number as on the cover and circuit,
/// each percent-encoded in UTF-8 (RFC 3986, 2.1 to 2.3: all but letters, digits, "-", ".", "_", "~"). The
/// same for every revision, because labels stay on the pipe.
std::string circuit_code(const job::Site& site, std::string_view circuit_id);

/// A square symbol of ISO/IEC 18004, error correction at least M, without its quiet zone.
class QrSymbol {
 public:
  /// Modules a side above which a printed code of `qr_side_mm` is hard to read: 0.27 mm each.
  static constexpr int most_modules = 57;
  /// None when `text` needs more modules: 200 characters fit.
  static std::optional<QrSymbol> of(const std::string& text);
  int modules() const { return modules_; }
  bool dark(int column, int row) const { return dark_[static_cast<std::size_t>(row * modules_ + column)]; }

 private:
  int modules_ = 0;
  std::vector<bool> dark_;
};

/// Side of the symbol itself; the quiet zone of 4 modules comes around it.
inline constexpr double qr_side_mm = 15.5;
/// Side of symbol and quiet zone together.
double qr_outer_mm(const QrSymbol& symbol);
/// Black on white with its quiet zone, top left corner of the quiet zone at `at`.
void draw_qr(Ink& ink, Point at, const QrSymbol& symbol);

}  // namespace firstdraw::paper
