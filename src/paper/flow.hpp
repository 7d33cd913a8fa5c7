// Text that flows down the pages: headings, paragraphs, lists, facts, notes.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "paper/page.hpp"

namespace firstdraw::paper {

inline constexpr TextStyle body_style{8.5, 400};
inline constexpr TextStyle small_style{7.5, 400, false, colours::quiet};

/// A part of the pack: a new page, a bookmark, a large heading.
void part(Book& book, const std::string& title, Book::Way way = Book::Way::upright);
/// The same on the page as it stands when `least_mm` of it are free.
void part_following(Book& book, const std::string& title, double least_mm = 90);
/// A bookmarked sheet within a part, on a new page. `opens_part`: the part whose first sheet this is, when
/// that part has no page of its own.
void sheet(Book& book, const std::string& title, const std::string& subtitle,
           Book::Way way = Book::Way::upright, const std::string& opens_part = "");
/// Heading within a page, kept with what follows. `follow_mm`: room that must be left below it.
void heading(Book& book, const std::string& title, double follow_mm = 14);
void paragraph(Book& book, const std::string& text, const TextStyle& style = body_style);
void bullets(Book& book, const std::vector<std::string>& items);
/// Numbered steps, each with a box to tick.
void steps(Book& book, const std::vector<std::string>& items);

using Facts = std::vector<std::pair<std::string, std::string>>;
/// Label and value pairs in `columns` columns; empty values are left out.
void facts(Book& book, const Facts& pairs, int columns = 2);
/// Large figures with captions, side by side.
void key_figures(Book& book, const Facts& figures, int columns = 3);
/// A framed warning that never breaks across pages; the frame and the word carry it, not the colour.
void caution(Book& book, const std::string& title, const std::string& text);
/// Boxes to write in by hand, `columns` side by side, each with its caption.
void writing_boxes(Book& book, const std::vector<std::string>& captions, int columns, double height_mm = 9);

}  // namespace firstdraw::paper
