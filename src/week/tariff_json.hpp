// Reads a tariff from a record of the open utility-rate schema (OpenEI URDB, public domain), strictly: what
// is not understood is an error that names the place, never a guess. Which fields are read: docs/week.md.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/job.hpp"
#include "week/tariff.hpp"

namespace firstdraw::week {

/// What such a record does not say and the user must.
struct TariffAsked {
  std::string currency;                   // "USD"
  bool holidays_as_weekend = false;       // are the calendar's holidays priced as weekend
  std::optional<double> demand_window_s;  // the meter's interval, where the record has none
  int ratchet_months = 11;                // months that a ratchet looks back; common practice, no source
};

struct TariffImport {
  Tariff tariff;
  std::vector<job::Assumption> assumptions;  // how the record was understood
};

/// `text` is one record, or an object whose "items" holds exactly one. `file` names it in messages, which
/// carry the path of the field: "energyratestructure[1][0].rate".
job::Result<TariffImport> read_tariff_json(std::string_view text, std::string_view file,
                                           const TariffAsked& asked);

}  // namespace firstdraw::week
