#include "paper/page.hpp"

#include <cairo-pdf.h>
#include <fmt/format.h>

namespace firstdraw::paper {
namespace {

constexpr double left_margin_mm = 20, right_margin_mm = 14, top_margin_mm = 23, bottom_margin_mm = 20;
constexpr const char* standing_statement =
    "A licensed electrician makes the connections, under local codes. The authority having jurisdiction "
    "decides.";

Frame sheet_of(const std::string& paper, Book::Way way) {
  const bool letter = paper == "letter";
  const double width_mm = letter ? 215.9 : 210, height_mm = letter ? 279.4 : 297;
  return way == Book::Way::upright ? Frame{0, 0, width_mm, height_mm} : Frame{0, 0, height_mm, width_mm};
}

}  // namespace

Book::Book(Identity identity, Contents known, Typesetter& type, cairo_surface_t* surface)
    : CairoInk(type, surface), identity_(std::move(identity)), known_(std::move(known)), surface_(surface) {}

void Book::new_page(Way way, bool with_header) {
  if (learnt_.pages > 0) finish();
  ++learnt_.pages;
  way_ = way;
  sheet_ = sheet_of(identity_.paper, way);
  frame_ = {left_margin_mm, top_margin_mm, sheet_.right_mm - right_margin_mm,
            sheet_.bottom_mm - bottom_margin_mm};
  y_mm_ = frame_.top_mm;
  if (cairo_) {
    cairo_pdf_surface_set_size(surface_, sheet_.width_mm() / mm_per_pt, sheet_.height_mm() / mm_per_pt);
    cairo_identity_matrix(cairo_);
    cairo_scale(cairo_, 1 / mm_per_pt, 1 / mm_per_pt);
  }
  if (with_header) draw_header();
  draw_footer();
}

void Book::finish() {
  if (cairo_) cairo_show_page(cairo_);
}

void Book::draw_header() {
  const TextStyle name{7.5, 600, false, colours::accent};
  const TextStyle quiet{7, 400, false, colours::quiet, Anchor::end};
  const double baseline_mm = 14;
  const std::string reference = fitted(*this, identity_.reference, quiet, frame_.width_mm() * 0.5);
  const double left_mm = frame_.width_mm() - label_width_mm(reference, quiet) - 6;
  label({frame_.left_mm, baseline_mm}, fitted(*this, identity_.job_name, name, left_mm), name);
  label({frame_.right_mm, baseline_mm}, reference, quiet);
  line({frame_.left_mm, 16.2}, {frame_.right_mm, 16.2}, {colours::accent, 0.25, {}});
}

void Book::draw_footer() {
  const TextStyle quiet{6.5, 400, false, colours::quiet};
  TextStyle right = quiet;
  right.anchor = Anchor::end;
  const double rule_mm = sheet_.bottom_mm - 15.5;
  line({frame_.left_mm, rule_mm}, {frame_.right_mm, rule_mm}, {colours::rule, 0.15, {}});
  const std::string number = fmt::format("Page {} of {}", page(), known_.pages);
  label({frame_.left_mm, rule_mm + 3.6}, standing_statement, quiet);
  label({frame_.left_mm, rule_mm + 6.8},
        fitted(*this, identity_.title + (part_.empty() ? "" : " · " + part_), quiet, frame_.width_mm() - 30),
        quiet);
  right.weight = 600;
  label({frame_.right_mm, rule_mm + 3.6}, number, right);
}

void Book::bookmark(const std::string& title, int depth) {
  learnt_.entries.push_back({title, depth, page()});
  if (!cairo_) return;
  const auto entry = learnt_.entries.size() - 1;
  const std::string destination =
      fmt::format("name='part{}' x={:.2f} y={:.2f}", entry, frame_.left_mm, y_mm_ - 4);
  cairo_tag_begin(cairo_, CAIRO_TAG_DEST, destination.c_str());
  cairo_tag_end(cairo_, CAIRO_TAG_DEST);
  outline_parents_.resize(static_cast<std::size_t>(depth));
  const int parent = outline_parents_.empty() ? CAIRO_PDF_OUTLINE_ROOT : outline_parents_.back();
  const std::string target = fmt::format("dest='part{}'", entry);
  outline_parents_.push_back(cairo_pdf_surface_add_outline(surface_, parent, title.c_str(), target.c_str(),
                                                           cairo_pdf_outline_flags_t{}));
}

void Book::link(const Frame& where, int entry) {
  if (!cairo_) return;
  const std::string target = fmt::format("dest='part{}' rect=[{:.2f} {:.2f} {:.2f} {:.2f}]", entry,
                                         where.left_mm, where.top_mm, where.width_mm(), where.height_mm());
  cairo_tag_begin(cairo_, CAIRO_TAG_LINK, target.c_str());
  cairo_tag_end(cairo_, CAIRO_TAG_LINK);
}

bool Book::need(double height_mm) {
  if (height_mm <= room_mm()) return false;
  new_page(way_);
  return true;
}

double Book::block(Point at, const TextBlock& block) {
  if (cairo_) type_.draw(cairo_, block, at);
  return type_.height_mm(block);
}

void Book::push(Point origin, double scale, const Frame* window) {
  if (!cairo_) return;
  cairo_save(cairo_);
  if (window) {
    cairo_rectangle(cairo_, window->left_mm, window->top_mm, window->width_mm(), window->height_mm());
    cairo_clip(cairo_);
  }
  cairo_translate(cairo_, origin.x_mm, origin.y_mm);
  cairo_scale(cairo_, scale, scale);
}

void Book::pop() {
  if (cairo_) cairo_restore(cairo_);
}

}  // namespace firstdraw::paper
