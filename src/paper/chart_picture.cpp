// Charts as files of their own.
#include <algorithm>
#include <cmath>

#include "paper/chart.hpp"
#include "paper/file_out.hpp"
#include "paper/svg.hpp"

namespace firstdraw::paper {
namespace {

constexpr double margin_mm = 6, title_mm = 8, note_line_mm = 3.4;
constexpr TextStyle title_style{11, 600, false, colours::accent};
constexpr TextStyle note_style{6.5, 400, false, colours::quiet};

std::vector<std::string> lines_of(Typesetter& type, const std::string& text, double width_mm) {
  std::vector<std::string> lines;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t stop = std::min(text.find_first_of(" \n", start), text.size());
    const std::string word = text.substr(start, stop - start);
    const std::string longer = lines.empty() || lines.back().empty() ? word : lines.back() + " " + word;
    if (lines.empty() || type.width_mm(longer, note_style) > width_mm)
      lines.push_back(word);
    else
      lines.back() = longer;
    if (stop < text.size() && text[stop] == '\n') lines.emplace_back();
    start = stop + 1;
  }
  return lines;
}

class Layout {
 public:
  Layout(const ChartPicture& picture, Typesetter& type)
      : picture_(picture), notes_(lines_of(type, picture.note, picture.width_mm - 2 * margin_mm)) {}

  Frame frame() const {
    return {0, 0, picture_.width_mm,
            2 * margin_mm + title_mm + static_cast<double>(picture_.charts.size()) * picture_.chart_mm +
                note_line_mm * static_cast<double>(notes_.size())};
  }

  void draw(Ink& ink) const {
    const Frame whole = frame();
    const double right_mm = whole.right_mm - margin_mm;
    ink.rectangle({0, 0}, whole.width_mm(), whole.height_mm(), colours::white, std::nullopt);
    ink.label({margin_mm, margin_mm + 4}, fitted(ink, picture_.title, title_style, right_mm - margin_mm),
              title_style);
    double y_mm = margin_mm + title_mm;
    for (const LineChart& chart : picture_.charts) {
      draw_chart(ink, {margin_mm, y_mm, right_mm, y_mm + picture_.chart_mm - 2}, chart);
      y_mm += picture_.chart_mm;
    }
    for (const std::string& line : notes_) ink.label({margin_mm, y_mm += note_line_mm}, line, note_style);
  }

 private:
  const ChartPicture& picture_;
  std::vector<std::string> notes_;
};

cairo_status_t collect(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

std::string png_bytes(const Layout& layout, Typesetter& type, double dots_per_mm) {
  const Frame frame = layout.frame();
  const auto dots = [&](double mm) { return std::max(1, static_cast<int>(std::lround(mm * dots_per_mm))); };
  cairo_surface_t* surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, dots(frame.width_mm()), dots(frame.height_mm()));
  cairo_surface_set_device_scale(surface, dots_per_mm, dots_per_mm);
  {
    CairoInk ink(type, surface);
    layout.draw(ink);
  }
  std::string bytes;
  cairo_surface_write_to_png_stream(surface, collect, &bytes);
  cairo_surface_destroy(surface);
  return bytes;
}

}  // namespace

std::expected<std::string, std::string> svg_of(const ChartPicture& picture) {
  auto type = Typesetter::create();
  if (!type) return std::unexpected(type.error());
  const Layout layout(picture, *type);
  Svg svg(picture.title, layout.frame(), *type);
  layout.draw(svg);
  return svg.finish();
}

std::expected<std::string, std::string> png_of(const ChartPicture& picture, double dots_per_inch) {
  auto type = Typesetter::create();
  if (!type) return std::unexpected(type.error());
  return png_bytes(Layout(picture, *type), *type, dots_per_inch / 25.4);
}

job::Result<void> write_picture(const ChartPicture& picture, const std::filesystem::path& path) {
  const auto bytes = path.extension() == ".png" ? png_of(picture) : svg_of(picture);
  if (!bytes) return std::unexpected(file_trouble(path, bytes.error(), "install the package fonts-inter"));
  return write_file(path, *bytes);
}

}  // namespace firstdraw::paper
