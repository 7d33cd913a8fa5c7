#include "paper/qr.hpp"

#include <fmt/format.h>

#include <qrcodegen/qrcodegen.hpp>

#include "paper/type.hpp"

namespace firstdraw::paper {
namespace {

constexpr int quiet_modules = 4;  // ISO/IEC 18004
constexpr Colour black{0, 0, 0};

bool unreserved(char letter) {
  return (letter >= 'A' && letter <= 'Z') || (letter >= 'a' && letter <= 'z') ||
         (letter >= '0' && letter <= '9') || letter == '-' || letter == '.' || letter == '_' || letter == '~';
}

std::string percent_encoded(std::string_view text) {
  std::string encoded;
  for (const char letter : clean_text(text))
    encoded += unreserved(letter) ? std::string(1, letter)
                                  : fmt::format("%{:02X}", static_cast<unsigned char>(letter));
  return encoded;
}

// A run of dark modules is one rectangle; a hair taller than its row, so that no light shows between rows.
void draw_row(Ink& ink, Point corner, double module_mm, const QrSymbol& symbol, int row) {
  constexpr double overlap = 0.02;
  for (int first = 0; first < symbol.modules(); ++first) {
    if (!symbol.dark(first, row)) continue;
    int next = first + 1;
    while (next < symbol.modules() && symbol.dark(next, row)) ++next;
    ink.rectangle({corner.x_mm + first * module_mm, corner.y_mm + row * module_mm},
                  (next - first) * module_mm, (1 + overlap) * module_mm, black, std::nullopt);
    first = next;
  }
}

}  // namespace

std::string circuit_code(const job::Site& site, std::string_view circuit_id) {
  if (!site.page.empty()) return site.page + "#circuit=" + percent_encoded(circuit_id);
  return "firstdraw:" + percent_encoded(site.project_number) + "/" + percent_encoded(circuit_id);
}

std::optional<QrSymbol> QrSymbol::of(const std::string& text) {
  constexpr int largest_version = (most_modules - 17) / 4;
  try {
    const auto code = qrcodegen::QrCode::encodeSegments(qrcodegen::QrSegment::makeSegments(text.c_str()),
                                                        qrcodegen::QrCode::Ecc::MEDIUM, 1, largest_version);
    QrSymbol symbol;
    symbol.modules_ = code.getSize();
    for (int row = 0; row < symbol.modules_; ++row)
      for (int column = 0; column < symbol.modules_; ++column)
        symbol.dark_.push_back(code.getModule(column, row));
    return symbol;
  } catch (const qrcodegen::data_too_long&) {
    return std::nullopt;
  }
}

double qr_outer_mm(const QrSymbol& symbol) {
  return qr_side_mm * (symbol.modules() + 2 * quiet_modules) / symbol.modules();
}

void draw_qr(Ink& ink, Point at, const QrSymbol& symbol) {
  const double module_mm = qr_side_mm / symbol.modules(), outer_mm = qr_outer_mm(symbol);
  ink.rectangle(at, outer_mm, outer_mm, colours::white, std::nullopt);
  const Point corner{at.x_mm + quiet_modules * module_mm, at.y_mm + quiet_modules * module_mm};
  for (int row = 0; row < symbol.modules(); ++row) draw_row(ink, corner, module_mm, symbol, row);
}

}  // namespace firstdraw::paper
