// Bodies of records, as docs/records.md and schemas/record-bodies.schema.json have them.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "prove/verdict.hpp"
#include "store/store.hpp"

namespace firstdraw::paper {

/// Readings of a field test with the verdicts given on the spot.
nlohmann::json test_body(const std::vector<prove::Reading>& readings,
                         const std::vector<prove::Verdict>& verdicts);
/// Somebody answers for all that the chain holds so far.
nlohmann::json sign_off_body(std::string_view role, std::string_view statement, std::string_view place,
                             const store::Verification& chain);
/// Of photos, actions and notes; an empty place is left out.
nlohmann::json text_body(std::string_view text, std::string_view place);

/// What was sent is the same; verdicts and what a sign-off signs for are not sent, they are found.
bool says_the_same(const store::Draft& a, const store::Draft& b);

}  // namespace firstdraw::paper
