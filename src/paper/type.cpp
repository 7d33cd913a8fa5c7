#include "paper/type.hpp"

#include <pango/pangocairo.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace firstdraw::paper {
namespace {

constexpr const char* family = "Inter";

// Keys of the measures kept: the bytes of a few numbers, then the text. Most of the setting time goes through
// them.
void append_number(std::string& key, long number) {
  key.append(reinterpret_cast<const char*>(&number), sizeof number);
}

std::string measure_key(const TextStyle& style, double width_mm, int max_lines, std::string_view text) {
  std::string key;
  key.reserve(3 * sizeof(long) + text.size());
  append_number(key, std::lround(style.size_pt * 100) * 10000 + style.weight * 2L + (style.italic ? 1 : 0));
  append_number(key, std::lround(width_mm * 1000));
  append_number(key, max_lines);
  return key.append(text);
}

double pango_to_mm(int units) { return static_cast<double>(units) / PANGO_SCALE * mm_per_pt; }

bool has_family(PangoFontMap* map) {
  PangoFontFamily** families = nullptr;
  int count = 0;
  pango_font_map_list_families(map, &families, &count);
  const bool found = std::any_of(families, families + count, [](PangoFontFamily* each) {
    return std::string_view(pango_font_family_get_name(each)) == family;
  });
  g_free(static_cast<void*>(families));
  return found;
}

bool is_letter_or_digit(char letter) { return std::isalnum(static_cast<unsigned char>(letter)) != 0; }

// Tabular figures; no line break inside ids ("6A-DROP-601") and sizes ("1-1/4") as long as that is possible.
PangoAttrList* attributes_for(std::string_view text) {
  PangoAttrList* attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1, calt=0"));
  pango_attr_list_insert(attributes, pango_attr_insert_hyphens_new(FALSE));
  for (std::size_t at = text.find_first_of("-/"); at != std::string_view::npos;
       at = text.find_first_of("-/", at + 1)) {
    if (at == 0 || at + 1 >= text.size() || !is_letter_or_digit(text[at - 1]) ||
        !is_letter_or_digit(text[at + 1]))
      continue;
    PangoAttribute* together = pango_attr_allow_breaks_new(FALSE);
    together->start_index = static_cast<guint>(at - 1);
    together->end_index = static_cast<guint>(at + 2);
    pango_attr_list_insert(attributes, together);
  }
  return attributes;
}

}  // namespace

std::string clean_text(std::string_view text) {
  gchar* valid = g_utf8_make_valid(text.data(), static_cast<gssize>(text.size()));
  std::string clean(valid);
  g_free(valid);
  for (char& letter : clean) {
    const auto code = static_cast<unsigned char>(letter);
    if ((code < 0x20 && letter != '\n') || code == 0x7F) letter = ' ';
  }
  return clean;
}

void Typesetter::Release::operator()(void* object) const { g_object_unref(object); }

std::expected<Typesetter, std::string> Typesetter::create() {
  PangoFontMap* map = pango_cairo_font_map_new();
  Typesetter setter(map);
  if (!has_family(map)) return std::unexpected("the typeface Inter is not installed");
  return setter;
}

Typesetter::Typesetter(PangoFontMap* map) : map_(map), context_(pango_font_map_create_context(map)) {
  pango_cairo_font_map_set_resolution(PANGO_CAIRO_FONT_MAP(map), 72);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context_.get(), options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context_.get(), FALSE);
  pango_context_set_language(context_.get(), pango_language_from_string("en"));
  layout_.reset(pango_layout_new(context_.get()));
  pango_layout_set_wrap(layout_.get(), PANGO_WRAP_WORD_CHAR);
}

void Typesetter::style_layout(const TextStyle& style) {
  if (style.size_pt == styled_size_ && style.weight == styled_weight_ && style.italic == styled_italic_)
    return;
  PangoFontDescription* font = pango_font_description_new();
  pango_font_description_set_family_static(font, family);
  pango_font_description_set_absolute_size(font, style.size_pt * PANGO_SCALE);
  pango_font_description_set_weight(font, static_cast<PangoWeight>(style.weight));
  pango_font_description_set_style(font, style.italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
  pango_layout_set_font_description(layout_.get(), font);
  pango_font_description_free(font);
  styled_size_ = style.size_pt;
  styled_weight_ = style.weight;
  styled_italic_ = style.italic;
}

void Typesetter::set_block(const TextBlock& block) {
  style_layout(block.style);
  PangoLayout* layout = layout_.get();
  const std::string text = clean_text(block.text);
  pango_layout_set_text(layout, text.c_str(), static_cast<int>(text.size()));
  PangoAttrList* attributes = attributes_for(text);
  pango_layout_set_attributes(layout, attributes);
  pango_attr_list_unref(attributes);
  pango_layout_set_width(
      layout, block.width_mm > 0 ? static_cast<int>(block.width_mm / mm_per_pt * PANGO_SCALE) : -1);
  pango_layout_set_height(layout, block.max_lines > 0 ? -block.max_lines : -1);
  pango_layout_set_ellipsize(layout, block.max_lines > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
  const Anchor anchor = block.style.anchor;
  pango_layout_set_alignment(layout, anchor == Anchor::start    ? PANGO_ALIGN_LEFT
                                     : anchor == Anchor::middle ? PANGO_ALIGN_CENTER
                                                                : PANGO_ALIGN_RIGHT);
}

double Typesetter::width_mm(std::string_view text, const TextStyle& style) {
  auto [entry, fresh] = widths_.try_emplace(measure_key(style, 0, 0, text), 0);
  if (fresh) {
    set_block({text, style});
    int width = 0;
    pango_layout_get_size(layout_.get(), &width, nullptr);
    entry->second = pango_to_mm(width);
  }
  return entry->second;
}

double Typesetter::line_height_mm(const TextStyle& style) { return height_mm({"0", style, 1000}); }

bool Typesetter::surely_one_line(const TextBlock& block) {
  return block.text.find('\n') == std::string_view::npos &&
         width_mm(block.text, block.style) < block.width_mm - 0.02;
}

double Typesetter::height_mm(const TextBlock& block) {
  const bool one_line = block.text != "0" && surely_one_line(block);
  const std::string_view text = one_line ? std::string_view("0") : block.text;
  const double width_mm = one_line ? 1000 : block.width_mm;
  auto [entry, fresh] =
      heights_.try_emplace(measure_key(block.style, width_mm, one_line ? 0 : block.max_lines, text), 0);
  if (fresh) {
    set_block({text, block.style, width_mm, one_line ? 0 : block.max_lines});
    int height = 0;
    pango_layout_get_size(layout_.get(), nullptr, &height);
    entry->second = pango_to_mm(height);
  }
  return entry->second;
}

double Typesetter::longest_word_mm(std::string_view text, const TextStyle& style) {
  double longest_mm = 0;
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t stop = std::min(text.find_first_of(" \n", start), text.size());
    if (stop > start) longest_mm = std::max(longest_mm, width_mm(text.substr(start, stop - start), style));
    start = stop + 1;
  }
  return longest_mm;
}

void Typesetter::draw(cairo_t* cairo, const TextBlock& block, Point at) {
  set_block(block);
  cairo_save(cairo);
  cairo_translate(cairo, at.x_mm, at.y_mm);
  cairo_scale(cairo, mm_per_pt, mm_per_pt);
  const Colour& colour = block.style.colour;
  cairo_set_source_rgb(cairo, colour.red, colour.green, colour.blue);
  pango_cairo_show_layout(cairo, layout_.get());
  cairo_restore(cairo);
}

void Typesetter::draw_line(cairo_t* cairo, std::string_view text, const TextStyle& style, Point at) {
  const double width = width_mm(text, style);
  const double shift_mm = style.anchor == Anchor::start    ? 0
                          : style.anchor == Anchor::middle ? width / 2
                                                           : width;
  TextStyle plain = style;
  plain.anchor = Anchor::start;
  set_block({text, plain});
  const double ascent_mm = pango_to_mm(pango_layout_get_baseline(layout_.get()));
  draw(cairo, {text, plain}, {at.x_mm - shift_mm, at.y_mm - ascent_mm});
}

}  // namespace firstdraw::paper
