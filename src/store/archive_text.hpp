// Private to the room: the CSV files of an archive, line by line.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "store/series.hpp"

namespace firstdraw::store {

inline constexpr std::string_view readings_heading = "at_ms,value";
inline constexpr std::string_view series_heading = "id,name,quantity,place";

/// "1790000000000,50.5": the shortest text that reads back to the same double.
void add_line(std::string& out, const Sample& sample);
std::optional<Sample> read_sample(std::string_view line);  // nullopt: not that, or no reading

/// Fields with commas or quotation marks between quotation marks, as RFC 4180 has it.
std::string series_line(const SeriesInfo& info);
std::optional<SeriesInfo> read_series(std::string_view line);

/// Cuts a stream into lines, each ended by a line feed.
class Lines {
 public:
  using Take = std::function<void(std::string_view line)>;
  Lines(std::size_t longest, Take take) : longest_(longest), take_(std::move(take)) {}
  /// False: a line longer than any may be.
  bool feed(std::string_view bytes);
  /// False: the last line has no end.
  bool at_end() const { return begun_.empty(); }

 private:
  std::size_t longest_;
  Take take_;
  std::string begun_{};
};

}  // namespace firstdraw::store
