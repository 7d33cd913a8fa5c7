// Private to the room: rows of the table of files.
#pragma once

#include <soci/soci.h>

#include <string>
#include <string_view>

namespace firstdraw::store {

/// Nothing happens where it is there already.
void insert_file(soci::session& sql, const std::string& sha256, std::string_view bytes);

}  // namespace firstdraw::store
