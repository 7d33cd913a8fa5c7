#include "cli/diagnosis_answer.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace firstdraw::cli {
namespace {

constexpr double worth_a_word = 0.03;
constexpr std::size_t least_shown = 3;

std::string_view title_of(prove::Cause cause) {
  return std::ranges::find(prove::cause_help(), cause, &prove::CauseHelp::cause)->title;
}

std::string percent(double share) { return share < 0.005 ? "<1" : fmt::format("{:.0f}", 100 * share); }

void add_suspects(Page& page, const prove::Diagnosis& diagnosis, bool all) {
  page.heading(diagnosis.settled ? "What is wrong" : "What may be wrong");
  TextTable table({{"Odds", "%", Column::Kind::number},
                   {"Cause", ""},
                   {"Where", ""},
                   {"What the readings say", "", Column::Kind::wrapping_text}});
  std::size_t shown = 0;
  for (const prove::Suspect& suspect : diagnosis.suspects) {
    if (!all && shown >= least_shown && suspect.probability < worth_a_word) break;
    ++shown;
    const Style style = suspect.probability >= 0.5 ? Style::bold : Style::plain;
    table.add_row(
        {{percent(suspect.probability), style},
         {std::string(title_of(suspect.cause)), style},
         {suspect.place.empty() ? "" : fmt::format("{} ({} %)", suspect.place, percent(suspect.at_place))},
         {suspect.said}});
  }
  page.table(table);
}

void add_to_do(Page& page, const prove::Diagnosis& diagnosis) {
  page.heading("What to do about it");
  for (const prove::Suspect& suspect : diagnosis.suspects) {
    if (suspect.probability < 0.2) break;
    page.paragraph(suspect.to_do, fmt::format("{}: ", title_of(suspect.cause)), Style::bold);
  }
}

void add_next(Page& page, const prove::Diagnosis& diagnosis) {
  if (diagnosis.next.empty()) return;
  page.heading("Measure next");
  for (const prove::Proposal& next : diagnosis.next) {
    page.paragraph(next.how,
                   fmt::format("{} of {} ({:g} min, {:.2f} bit): ", prove::name_of(next.what), next.place,
                               next.minutes, next.information_bit),
                   Style::bold);
    for (const std::string& tells : next.tells) page.paragraph(tells, "  - ");
  }
}

void add_sentences(Page& page, std::string_view heading, const std::vector<std::string>& sentences) {
  if (sentences.empty()) return;
  page.heading(heading);
  for (const std::string& sentence : sentences) page.paragraph(sentence, "- ");
}

}  // namespace

void add_answer(Page& page, const prove::Diagnosis& diagnosis, bool all) {
  if (!diagnosis.suspects.empty()) {
    add_suspects(page, diagnosis, all);
    add_to_do(page, diagnosis);
    add_next(page, diagnosis);
  }
  add_sentences(page, "It rests on", diagnosis.used);
  add_sentences(page, "Assumed", diagnosis.assumed);
  for (const std::string& warning : diagnosis.warnings) page.paragraph(warning, "Look out: ", Style::red);
  page.caution(
      "odds are no proof, and a likely cause is no permit to work: local codes, the authority having "
      "jurisdiction and "
      "the cable maker's instructions decide; a licensed electrician isolates, locks out and measures at "
      "live parts.");
}

}  // namespace firstdraw::cli
