// Cells as spreadsheets put them on the clipboard.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::desk {

/// Rows at line ends, cells at tabs; a cell that begins with a quote ends at its closing one and may hold
/// both, and a quote twice. A quote that never closes is a plain character. The line end after the last row
/// makes no row. Rows may be of different lengths.
std::vector<std::vector<std::string>> clipboard_cells(std::string_view text);

}  // namespace firstdraw::desk
