// The view and the sheet of a job as text, made once for all who ask for the same.
#pragma once

#include <string_view>

#include "serve/answer.hpp"
#include "serve/house.hpp"
#include "serve/watch_clock.hpp"

namespace firstdraw::serve {

/// Schema View. Its took_ms is the time it took whoever asked first.
ShownHandle shown_view(House& house, OpenJob& job, const Looked& looked, const Watch& since);
/// Schema Sheet.
ShownHandle shown_sheet(OpenJob& job, const desk::Shared& snapshot);
/// The same view with the time of this question.
std::string took(std::string_view view, const Watch& since);

Reply shown_reply(ShownHandle shown);

}  // namespace firstdraw::serve
