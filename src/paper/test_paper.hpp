// For the tests of this room: a book in a file of its own, and what other programs read in it.
#pragma once

#include <cairo-pdf.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "paper/page.hpp"

namespace firstdraw::paper {

inline std::string output_of(const std::string& command) {
  std::string text;
  FILE* pipe = popen(command.c_str(), "r");
  if (!pipe) throw std::runtime_error("cannot run " + command);
  char buffer[4096];
  for (std::size_t got = 0; (got = fread(buffer, 1, sizeof buffer, pipe)) > 0;) text.append(buffer, got);
  pclose(pipe);
  return text;
}

/// Pages in a file that goes with the book.
class TestBook {
 public:
  explicit TestBook(const std::string& name, std::string paper = "letter")
      : folder_(std::filesystem::temp_directory_path() /
                ("firstdraw-paper-" + std::to_string(getpid()) + "-" + name)),
        paper_(std::move(paper)) {
    std::filesystem::create_directories(folder_);
  }
  ~TestBook() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  TestBook(const TestBook&) = delete;
  TestBook& operator=(const TestBook&) = delete;

  template <class Set>
  int with(Set set) {
    auto type = Typesetter::create();
    if (!type) throw std::runtime_error(type.error());
    cairo_surface_t* surface = cairo_pdf_surface_create(pdf().c_str(), 595, 842);
    int pages = 0;
    {
      Book book({"Test", "Invented job", "", "", paper_, "2000-01-01T00:00:00Z"}, {}, *type, surface);
      set(book);
      pages = book.page();
      book.finish();
    }
    cairo_surface_finish(surface);
    cairo_surface_destroy(surface);
    return pages;
  }

  std::string stem() const { return (folder_ / "book").string(); }
  std::string pdf() const { return stem() + ".pdf"; }
  std::string text() const { return output_of("pdftotext -layout '" + pdf() + "' -"); }

 private:
  std::filesystem::path folder_;
  std::string paper_;
};

}  // namespace firstdraw::paper
