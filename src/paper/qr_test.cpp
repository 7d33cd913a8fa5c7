// QR codes: what they say, that a decoder made elsewhere reads it back from a label, and their size on paper.
#include "paper/qr.hpp"

#include <gtest/gtest.h>

#include "paper/label.hpp"
#include "paper/test_paper.hpp"

namespace firstdraw::paper {
namespace {

// RFC 3986, 2.1 and 2.3: unreserved characters stay, all others become % and the octet in upper-case
// hexadecimal digits. "é" is C3 A9 in UTF-8 (RFC 3629).
TEST(Qr, CodesAreSchemeProjectAndCircuit) {
  job::Site site;
  site.project_number = "2026-031";
  EXPECT_EQ(circuit_code(site, "C07"), "firstdraw:2026-031/C07");
  site.project_number = "A/7 é?";
  EXPECT_EQ(circuit_code(site, "C 7~"), "firstdraw:A%2F7%20%C3%A9%3F/C%207~");
  site.project_number.clear();
  EXPECT_EQ(circuit_code(site, "C07"), "firstdraw:/C07");
}

// RFC 3986, 3.5: what follows # names a part of the page.
TEST(Qr, AJobThatStatesItsPageHasCodesThatOpenIt) {
  job::Site site;
  site.project_number = "2026-031";
  site.page = "https://pipes.example/j/hotel";
  EXPECT_EQ(circuit_code(site, "C 7"), "https://pipes.example/j/hotel#circuit=C%207");
}

// ISO/IEC 18004: 17 + 4 v modules a side; version 2 holds 26 bytes at level M (table of capacities, from
// memory).
TEST(Qr, SymbolsAreAsLargeAsTheirTextAsksFor) {
  EXPECT_EQ(QrSymbol::of("firstdraw:2026-031/C07")->modules(), 25);
  EXPECT_EQ(QrSymbol::of(std::string(26, 'a'))->modules(), 25);
  EXPECT_EQ(QrSymbol::of(std::string(27, 'a'))->modules(), 29);
  EXPECT_TRUE(QrSymbol::of(std::string(200, 'a')));
  EXPECT_FALSE(QrSymbol::of(std::string(400, 'a')));
}

TEST(Qr, SymbolsAreLargeEnoughToScan) {
  EXPECT_GE(qr_side_mm, 12);
  EXPECT_GE(qr_side_mm / QrSymbol::most_modules,
            0.25);  // modules of a printed code: common practice, no source
  for (const std::size_t length : {1U, 22U, 60U, 120U, 200U}) {
    const auto symbol = QrSymbol::of(std::string(length, 'a'));
    ASSERT_TRUE(symbol);
    // Four modules of quiet zone on every side: ISO/IEC 18004.
    EXPECT_NEAR(qr_outer_mm(*symbol), qr_side_mm * (1 + 8.0 / symbol->modules()), 1e-9);
    EXPECT_LT(qr_outer_mm(*symbol), label_size.height_mm);
  }
}

// zbarimg, a decoder that shares nothing with the encoder.
std::string decoded(const TestBook& book, int dots_per_inch) {
  return output_of("pdftoppm -r " + std::to_string(dots_per_inch) + " -png '" + book.pdf() + "' '" +
                   book.stem() + "' && zbarimg -q --raw --nodbus '" + book.stem() + "'*.png");
}

Label label_saying(const std::string& code) {
  return {"C07", "End seal", "at M3 · Ground floor · Ceiling void", {"Panel P1", "Cable"}, "CAUTION.", code};
}

TEST(Qr, ALabelOfTheBookReadsBack) {
  for (const std::string& code : {std::string("firstdraw:2026-031/C07"), std::string("firstdraw:%C3%A9/C1"),
                                  "firstdraw:" + std::string(150, 'W') + "/C01"}) {
    TestBook book("label");
    book.with([&](Book& pages) {
      pages.new_page();
      draw_label(pages, {30, 40}, label_saying(code));
    });
    EXPECT_EQ(decoded(book, 300), code + "\n");
  }
}

TEST(Qr, ATextTooLongForASymbolIsSaidInWords) {
  TestBook book("too-long");
  book.with([&](Book& pages) {
    pages.new_page();
    draw_label(pages, {30, 40}, label_saying("firstdraw:" + std::string(500, 'W') + "/C01"));
  });
  EXPECT_EQ(decoded(book, 200), "");
  EXPECT_NE(book.text().find("no code"), std::string::npos);
}

}  // namespace
}  // namespace firstdraw::paper
