#include <nlohmann/json.hpp>

#include "prove/hypotheses.hpp"

namespace firstdraw::prove {
namespace {

std::string_view unit_of(Cause cause) {
  using enum Cause;
  switch (cause) {
    case dead_length:
      return "m";
    case wrong_voltage:
      return "V";
    case wrong_ambient:
      return "degC";
    case colder_air:
      return "K";
    default:
      return "1";
  }
}

nlohmann::json to_json(const Suspect& suspect) {
  nlohmann::json value;
  if (suspect.value)
    value = {{"low", suspect.value->low},
             {"usual", suspect.value->usual},
             {"high", suspect.value->high},
             {"unit", unit_of(suspect.cause)}};
  return {{"cause", id_of(suspect.cause)},
          {"place", suspect.place},
          {"probability", suspect.probability},
          {"at_place", suspect.at_place},
          {"value", value},
          {"cable", suspect.what.empty() ? nlohmann::json() : nlohmann::json(suspect.what)},
          {"said", suspect.said},
          {"to_do", suspect.to_do}};
}

nlohmann::json to_json(const Proposal& proposal) {
  return {{"what", name_of(proposal.what)},
          {"place", proposal.place},
          {"how", proposal.how},
          {"minutes", proposal.minutes},
          {"information_bit", proposal.information_bit},
          {"bit_per_minute", proposal.bit_per_minute},
          {"tells", proposal.tells}};
}

template <class Items>
nlohmann::json list_of(const Items& items) {
  auto list = nlohmann::json::array();
  for (const auto& item : items) list.push_back(to_json(item));
  return list;
}

}  // namespace

nlohmann::json to_json(const job::Job& job, const Diagnosis& diagnosis) {
  return {{"job", job.site.name},
          {"settled", diagnosis.settled},
          {"suspects", list_of(diagnosis.suspects)},
          {"next", list_of(diagnosis.next)},
          {"used", diagnosis.used},
          {"assumed", diagnosis.assumed},
          {"warnings", diagnosis.warnings}};
}

}  // namespace firstdraw::prove
