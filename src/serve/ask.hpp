// What the tests of every stage ask at one circuit, and what answers it: schema Ask of openapi.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "serve/books.hpp"

namespace firstdraw::serve {

nlohmann::json asks_json(const power::Circuit& circuit, const BookView& book, const Looked& looked);

}  // namespace firstdraw::serve
