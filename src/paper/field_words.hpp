// How readings, verdicts and records are put on paper.
#pragma once

#include <string>
#include <string_view>

#include "paper/field_book.hpp"
#include "paper/naming.hpp"

namespace firstdraw::paper {

/// "4.21 A", "over 2000 MΩ", "yes".
std::string value_text(const Show& show, const prove::Reading& reading);
/// "supply voltage"; the reading's own name in words.
std::string what_text(prove::What what);
std::string stage_text(prove::Stage stage);  // "before energising"
/// "pass", "? doubt", "! FAIL": the mark and the word carry it, not a colour.
std::string grade_text(prove::Grade grade);
/// Worst of two.
prove::Grade worse(prove::Grade a, prove::Grade b);
/// "29 Nov 2026, 14:05" stays as the technician wrote it: "2026-11-29 14:05".
std::string moment_text(std::string_view at);
std::string instrument_text(const prove::Instrument& instrument);
/// First characters of a hash, in fours: "3f9a 11c0 88de 4b21".
std::string short_hash(std::string_view hash);
/// The whole of it in eights, to be compared by eye.
std::string long_hash(std::string_view hash);
/// A later record takes its place.
bool is_corrected(const std::vector<store::Record>& records, std::int64_t number);
std::string kind_text(store::RecordKind kind);

}  // namespace firstdraw::paper
