// Cover and contents.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/week_words.hpp"

namespace firstdraw::paper {
namespace {

void title_block(Book& book, const Pack& pack) {
  const double width_mm = book.frame().width_mm();
  book.move_to(34);
  book.line({book.frame().left_mm, book.y_mm()}, {book.frame().right_mm, book.y_mm()},
            {colours::accent, 0.8, {}});
  book.skip(4);
  book.skip(book.block({book.frame().left_mm, book.y_mm()},
                       {"Hand-over pack · electrically traced domestic hot-water piping",
                        {9, 500, false, colours::quiet},
                        width_mm}) +
            2);
  book.skip(book.block({book.frame().left_mm, book.y_mm()},
                       {pack.job.site.name, {24, 600, false, colours::accent}, width_mm, 4}) +
            2);
  book.skip(book.block({book.frame().left_mm, book.y_mm()}, {pack.job.site.address, {10, 400}, width_mm, 4}) +
            6);
}

std::string rule_set_name(rules::RuleSet rules) {
  return rules == rules::RuleSet::us ? "US: NEC and IEEE practice" : "International: IEC and EN practice";
}

std::string guideline_name(const std::string& id) {
  const auto guideline = rules::find_guideline(id);
  return guideline ? guideline->name : id;
}

std::string document_name(const rules::Citation& citation) {
  return citation.document + (citation.edition.empty() ? "" : " " + citation.edition);
}

// Documents by what their rules cite for an ordinary pipe: NPS 1 copper tube at 50 °C, insulation of
// 0.036 W/(m K).
constexpr double usual_outer_m = 0.028575, usual_inner_m = 0.02604, usual_water_c = 50, usual_k = 0.036;

std::string energy_code_name(const std::string& code) {
  const auto least =
      rules::minimum_thickness(code, usual_outer_m, usual_inner_m, "1", usual_water_c, usual_k);
  return least ? document_name(least->citation) : code;
}

std::string runout_rule_name(const std::string& rule) {
  const auto limit = rules::runout_limit(rule, "1", usual_outer_m, false);
  return limit ? document_name(limit->citation) : rule;
}

void rules_in_force(Book& book, const Pack& pack) {
  const job::Requirements& required = pack.job.requirements;
  heading(book, "Rules in force");
  facts(book, {{"Electrical rules", rule_set_name(required.rules)},
               {"Kind of building", required.building_kind},
               {"Water hygiene", guideline_name(required.guideline)},
               {"Energy code", energy_code_name(required.energy_code)},
               {"Longest untraced pipe", runout_rule_name(required.runout_rule)}});
  paragraph(book,
            "Editions are named under Sources. The edition adopted at the site may differ: ask the authority "
            "having "
            "jurisdiction before ordering.",
            small_style);
}

/// Of all findings that the pack lists.
plan::Totals counted(const Pack& pack) {
  plan::Totals totals = pack.plan.totals;
  totals.stops = totals.fixes = totals.notes = totals.accepted = 0;
  for (const plan::Finding& each : all_findings(pack))
    ++(each.accepted                           ? totals.accepted
       : each.severity == plan::Severity::stop ? totals.stops
       : each.severity == plan::Severity::fix  ? totals.fixes
                                               : totals.notes);
  return totals;
}

std::string open_findings(const plan::Totals& totals) {
  return fmt::format("{} · {} · {}", totals.stops, totals.fixes, totals.notes);
}

}  // namespace

void cover(Book& book, const Pack& pack) {
  const job::Site& site = pack.job.site;
  const plan::Totals totals = counted(pack);
  const auto kilowatts = [](double power_w) { return fmt::format("{:.1f} kW", power_w / 1000); };
  book.set_part("");
  book.new_page(Book::Way::upright, false);
  book.bookmark("Cover and summary", 0);
  title_block(book, pack);
  facts(book, {{"Project number", site.project_number},
               {"Revision", site.revision},
               {"Date", site.date},
               {"Prepared by", site.prepared_by},
               {"Owner", site.owner},
               {"Contractor", site.contractor}});
  book.skip(2);
  key_figures(book,
              {{"Pipe traced", pack.show.with_unit(totals.traced_m, Kind::length)},
               {"Heating cable, allowances included", pack.show.with_unit(totals.cable_m, Kind::length)},
               {"Circuits", fmt::format("{}", pack.plan.circuits.size())},
               {"Panel load, heating at maintain", kilowatts(totals.working_w)},
               {"Panel load, 300 s after a cold start", kilowatts(totals.settled_w)},
               {"Energy a year", count(totals.energy_kwh_per_year) + " kWh"},
               {"Probability that every run holds", probability(totals.all_hold_prob)},
               {"Open findings: stop · fix · note", open_findings(totals)},
               {"Findings accepted", fmt::format("{}", totals.accepted)}});
  if (totals.stops > 0)
    caution(book,
            fmt::format("{} finding{} say{} stop", totals.stops, totals.stops == 1 ? "" : "s",
                        totals.stops == 1 ? "s" : ""),
            "Do not build from this pack before they are resolved or accepted by name. See Findings.");
  rules_in_force(book, pack);
  if (!site.notes.empty()) {
    heading(book, "Notes");
    paragraph(book, site.notes);
  }
  caution(book, "Who decides", authority_statement);
}

constexpr double sheet_entry_mm = 4.3;
double entry_height_mm(const ContentsEntry& entry) { return entry.depth == 0 ? 5.6 : sheet_entry_mm; }

// Where the list takes several pages they share it evenly, so that the last one is not left with a few lines.
double entries_per_page_mm(const Book& book) {
  double all_mm = 0;
  for (const ContentsEntry& entry : book.known().entries) all_mm += entry_height_mm(entry);
  return all_mm / std::max(1.0, std::ceil((all_mm + sheet_entry_mm) / book.room_mm()));
}

void contents(Book& book) {
  part(book, "Contents");
  const auto& entries = book.known().entries;
  const double per_page_mm = entries_per_page_mm(book);
  double on_page_mm = 0;
  for (std::size_t index = 0; index < entries.size(); ++index) {
    const ContentsEntry& entry = entries[index];
    const bool main = entry.depth == 0;
    if (on_page_mm >= per_page_mm) {
      book.new_page();
      on_page_mm = 0;
    }
    const TextStyle style{main ? 9.0 : 8.0, main ? 600 : 400, false, main ? colours::accent : colours::text};
    const double height_mm = entry_height_mm(entry);
    if (book.need(height_mm + (main ? sheet_entry_mm : 0))) on_page_mm = 0;
    const double left_mm = book.frame().left_mm + (main ? 0 : 5), baseline_mm = book.y_mm() + height_mm - 1.4;
    TextStyle number = style;
    number.anchor = Anchor::end;
    const std::string title = fitted(book, entry.title, style, book.frame().right_mm - left_mm - 14);
    const double title_end_mm = left_mm + book.label_width_mm(title, style) + 2;
    book.label({left_mm, baseline_mm}, title, style);
    book.line({title_end_mm, baseline_mm - 0.2}, {book.frame().right_mm - 10, baseline_mm - 0.2},
              {colours::rule, 0.12, {0.3, 1.2}});
    book.label({book.frame().right_mm, baseline_mm}, fmt::format("{}", entry.page), number);
    book.link({left_mm, book.y_mm(), book.frame().right_mm, book.y_mm() + height_mm},
              static_cast<int>(index));
    book.skip(height_mm);
    on_page_mm += height_mm;
  }
}

}  // namespace firstdraw::paper
