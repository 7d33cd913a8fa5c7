// Labels of all circuits, to print and cut.
#include <fmt/format.h>

#include "paper/label.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {
namespace {

void introduction(Book& book, const Pack& pack) {
  const rules::LabelSpacing along = rules::label_spacing(pack.job.requirements.rules);
  paragraph(
      book,
      fmt::format("Print at full size on self-adhesive film that stands the wet and the warmth of the "
                  "jacket; cut along the dashes; stick where they are seen before a tool is. The square "
                  "code names job and circuit. The caution labels along the pipe, one every {} ({}), are "
                  "needed as well.",
                  pack.show.with_unit(along.spacing_m, Kind::length), citation_text(along.citation)),
      small_style);
}

}  // namespace

void labels(Book& book, const Pack& pack) {
  if (pack.plan.circuits.empty()) return;
  part(book, "Labels");
  introduction(book, pack);
  double left_mm = book.frame().left_mm;
  for (const power::Circuit& circuit : pack.plan.circuits)
    for (const Label& label : circuit_labels(pack, circuit)) {
      if (left_mm + label_size.width_mm > book.frame().right_mm + 0.01) {
        left_mm = book.frame().left_mm;
        book.skip(label_size.height_mm);
      }
      book.need(label_size.height_mm);
      draw_label(book, {left_mm, book.y_mm()}, label);
      left_mm += label_size.width_mm;
    }
}

}  // namespace firstdraw::paper
