// The book of pages: one PDF surface, one grid, header and footer on every page, bookmarks and links.
// A book is set twice: once without a surface, to learn how many pages there are and where sections start,
// then for good.
#pragma once

#include <string>
#include <vector>

#include "paper/cairo_ink.hpp"

namespace firstdraw::paper {

/// What stands on every page and in the document's properties.
struct Identity {
  std::string title;  // "Hand-over pack"
  std::string job_name;
  std::string reference;  // project number, revision, date
  std::string author;
  std::string paper;     // "letter" or "a4"
  std::string iso_date;  // "2026-03-01T00:00:00Z"
};

struct ContentsEntry {
  std::string title;
  int depth = 0;
  int page = 0;
  bool operator==(const ContentsEntry&) const = default;
};
struct Contents {
  std::vector<ContentsEntry> entries;
  int pages = 0;
  bool operator==(const Contents&) const = default;
};

class Book final : public CairoInk {
 public:
  /// `surface` may be null: then nothing is drawn and only the contents are learnt.
  Book(Identity identity, Contents known, Typesetter& type, cairo_surface_t* surface);

  enum class Way { upright, wide };
  void new_page(Way way = Way::upright, bool with_header = true);
  void finish();

  /// A heading's bookmark and line in the contents, pointing at the cursor on this page.
  void bookmark(const std::string& title, int depth);
  /// What the footer calls this part of the pack.
  void set_part(std::string part) { part_ = std::move(part); }

  const Frame& frame() const { return frame_; }
  const Contents& learnt() const { return learnt_; }
  const Contents& known() const { return known_; }
  const Identity& identity() const { return identity_; }
  Typesetter& type() { return type_; }
  int page() const { return learnt_.pages; }

  /// The cursor: where the next thing in the flow goes.
  double y_mm() const { return y_mm_; }
  void move_to(double y_mm) { y_mm_ = y_mm; }
  void skip(double height_mm) { y_mm_ += height_mm; }
  double room_mm() const { return frame_.bottom_mm - y_mm_; }
  /// Starts a new page of the same kind when less than `height_mm` is left; says whether it did.
  bool need(double height_mm);

  /// A block of text with its top left corner at `at`; returns its height.
  double block(Point at, const TextBlock& block);
  void link(const Frame& where, int entry);

  /// Drawings: everything between is shifted, scaled and, if asked, clipped to a window of the page.
  void push(Point origin, double scale, const Frame* window = nullptr);
  void pop();

 private:
  void draw_header();
  void draw_footer();

  Identity identity_;
  Contents known_, learnt_;
  cairo_surface_t* surface_;
  Frame frame_, sheet_;
  Way way_ = Way::upright;
  std::string part_;
  double y_mm_ = 0;
  std::vector<int> outline_parents_;
};

}  // namespace firstdraw::paper
