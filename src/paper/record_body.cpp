#include "paper/record_body.hpp"

#include <nlohmann/json.hpp>

#include "prove/readings_file.hpp"

namespace firstdraw::paper {
namespace {

using nlohmann::json;

json verdict_json(const prove::Verdict& verdict) {
  json out{{"reading", verdict.reading}, {"grade", prove::name_of(verdict.grade)}, {"said", verdict.said}};
  if (!verdict.suspect.empty()) out["suspect"] = verdict.suspect;
  if (!verdict.to_do.empty()) out["to_do"] = verdict.to_do;
  if (!verdict.means.empty()) out["means"] = verdict.means;
  if (!verdict.warnings.empty()) out["warnings"] = verdict.warnings;
  return out;
}

/// A body without what the program found by itself.
json sent_part(const store::Draft& draft) {
  json body = json::parse(draft.body, nullptr, false);
  if (!body.is_object()) return body;
  if (draft.kind == store::RecordKind::test) body.erase("verdicts");
  if (draft.kind == store::RecordKind::sign_off) {
    body.erase("records");
    body.erase("head");
  }
  return body;
}

}  // namespace

json test_body(const std::vector<prove::Reading>& readings, const std::vector<prove::Verdict>& verdicts) {
  json body = json::parse(prove::to_body(readings));
  body["verdicts"] = json::array();
  for (const prove::Verdict& verdict : verdicts) body["verdicts"].push_back(verdict_json(verdict));
  return body;
}

json sign_off_body(std::string_view role, std::string_view statement, std::string_view place,
                   const store::Verification& chain) {
  json body{{"role", role}, {"statement", statement}, {"records", chain.records}, {"head", chain.head_hash}};
  if (!place.empty()) body["place"] = place;
  return body;
}

json text_body(std::string_view text, std::string_view place) {
  json body{{"text", text}};
  if (!place.empty()) body["place"] = place;
  return body;
}

bool says_the_same(const store::Draft& a, const store::Draft& b) {
  return a.kind == b.kind && a.at == b.at && a.who == b.who && a.instruments == b.instruments &&
         a.attachments == b.attachments && a.corrects == b.corrects && a.entry == b.entry &&
         sent_part(a) == sent_part(b);
}

}  // namespace firstdraw::paper
