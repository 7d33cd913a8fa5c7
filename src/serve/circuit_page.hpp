// All a technician needs at one circuit: schema CircuitPage of openapi.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "serve/books.hpp"

namespace firstdraw::serve {

/// The place is the circuit's group, or one of its runs.
bool is_at(const job::Job& job, const power::Circuit& circuit, const std::string& place);

nlohmann::json circuit_page(const power::Circuit& circuit, const BookView& book, const Looked& looked);

}  // namespace firstdraw::serve
