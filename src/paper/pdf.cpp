#include "paper/pdf.hpp"

#include <cairo-pdf.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdio>

namespace firstdraw::paper {
namespace {

int month_of(std::string_view text) {
  static constexpr std::array<std::string_view, 12> names{"jan", "feb", "mar", "apr", "may", "jun",
                                                          "jul", "aug", "sep", "oct", "nov", "dec"};
  std::string start(text.substr(0, 3));
  std::ranges::transform(start, start.begin(),
                         [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  const auto found = std::ranges::find(names, start);
  return found == names.end() ? 0 : static_cast<int>(found - names.begin()) + 1;
}

std::string iso_text(std::chrono::sys_days day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{:04}-{:02}-{:02}T00:00:00Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

Contents learn_contents(const Identity& identity, const std::function<void(Book&)>& set, Typesetter& type) {
  constexpr int most_rounds =
      5;  // page numbers settle after two: the contents' own length is all that can change
  Contents known;
  for (int round = 0; round < most_rounds; ++round) {
    Book book(identity, known, type, nullptr);
    set(book);
    if (book.learnt() == known) break;
    known = book.learnt();
  }
  return known;
}

cairo_status_t collect(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void describe(cairo_surface_t* surface, const Identity& identity) {
  std::string title = identity.title;
  if (!title.empty()) title[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(title[0])));
  title = identity.job_name + ": " + title;
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, identity.author.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT,
                                 "Electrically traced domestic hot-water piping");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "Firstdraw");
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, identity.iso_date.c_str());
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, identity.iso_date.c_str());
}

}  // namespace

std::chrono::sys_days date_of(const job::Site& site) {
  int year = 0, month = 0, day = 0;
  std::array<char, 16> name{};
  const char* text = site.date.c_str();
  if (std::sscanf(text, "%4d-%2d-%2d", &year, &month, &day) != 3) {
    const bool read = std::sscanf(text, "%2d %15[A-Za-z] %4d", &day, name.data(), &year) == 3 ||
                      std::sscanf(text, "%15[A-Za-z] %2d, %4d", name.data(), &day, &year) == 3;
    month = read ? month_of(name.data()) : 0;
  }
  const std::chrono::year_month_day date{std::chrono::year{year},
                                         std::chrono::month{static_cast<unsigned>(std::max(month, 0))},
                                         std::chrono::day{static_cast<unsigned>(std::max(day, 0))}};
  const bool usable = date.ok() && year >= 1980 && year < 2100;
  return usable ? std::chrono::sys_days{date} : std::chrono::sys_days{std::chrono::year{2000} / 1 / 1};
}

Identity identity_of(const job::Job& job, const std::string& title) {
  std::string reference;
  const auto add = [&](const char* label, const std::string& value) {
    if (!value.empty())
      reference += (reference.empty() ? "" : " · ") + std::string(label) + clean_text(value);
  };
  add("", job.site.project_number);
  add("Revision ", job.site.revision);
  add("", job.site.date);
  std::string name = clean_text(job.site.name);
  std::ranges::replace(name, '\n', ' ');
  std::ranges::replace(reference, '\n', ' ');
  return {title, name, reference, clean_text(job.site.prepared_by), job.paper, iso_text(date_of(job.site))};
}

std::expected<std::string, std::string> pdf_of(const Identity& identity,
                                               const std::function<void(Book&)>& set, Typesetter& type) {
  const Contents known = learn_contents(identity, set, type);
  std::string bytes;
  cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(collect, &bytes, 595, 842);
  describe(surface, identity);
  {
    Book book(identity, known, type, surface);
    set(book);
  }
  cairo_surface_finish(surface);
  const cairo_status_t status = cairo_surface_status(surface);
  cairo_surface_destroy(surface);
  if (status != CAIRO_STATUS_SUCCESS) return std::unexpected(cairo_status_to_string(status));
  return bytes;
}

}  // namespace firstdraw::paper
