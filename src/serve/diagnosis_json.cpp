#include "serve/diagnosis_json.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "paper/field_words.hpp"
#include "plan/json_number.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;

const prove::CauseHelp& help_of(prove::Cause cause) {
  return *std::ranges::find(prove::cause_help(), cause, &prove::CauseHelp::cause);
}

std::string size_of(const prove::Suspect& suspect) {
  if (!suspect.what.empty()) return suspect.what;
  if (!suspect.value) return "";
  return fmt::format("{:.3g} ({:.3g} to {:.3g})", suspect.value->usual, suspect.value->low,
                     suspect.value->high);
}

json cause_json(const prove::Suspect& suspect) {
  const prove::CauseHelp& help = help_of(suspect.cause);
  return {
      {"id", help.id},          {"name", help.title},       {"prob", plan::json_number(suspect.probability)},
      {"where", suspect.place}, {"size", size_of(suspect)}, {"words", suspect.said},
      {"to_do", suspect.to_do}};
}

json next_json(const prove::Proposal& next) {
  return {
      {"reading", paper::what_text(next.what)},
      {"kind", prove::name_of(next.what)},
      {"where", next.place},
      {"minutes", plan::json_number(next.minutes)},
      {"bits", plan::json_number(next.information_bit)},
      {"why", fmt::format("{}{}{}", next.how, next.tells.empty() ? "" : " ", fmt::join(next.tells, "; "))}};
}

}  // namespace

json diagnosis_json(const prove::Diagnosis& diagnosis) {
  json causes = json::array(), next = json::array(), words = json::array();
  for (const prove::Suspect& suspect : diagnosis.suspects) causes.push_back(cause_json(suspect));
  for (const prove::Proposal& proposal : diagnosis.next) next.push_back(next_json(proposal));
  for (const auto* sentences : {&diagnosis.warnings, &diagnosis.used, &diagnosis.assumed})
    for (const std::string& sentence : *sentences) words.push_back(sentence);
  return {{"causes", std::move(causes)}, {"next", std::move(next)}, {"words", std::move(words)}};
}

}  // namespace firstdraw::serve
