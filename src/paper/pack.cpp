#include "paper/pack.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <chrono>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "paper/file_out.hpp"
#include "paper/install.hpp"
#include "paper/one_line.hpp"
#include "paper/pdf.hpp"
#include "paper/sheets.hpp"
#include "paper/svg.hpp"
#include "paper/week_charts.hpp"
#include "paper/workbook.hpp"

namespace firstdraw::paper {
namespace {

void set_book(Book& book, const Pack& pack) {
  cover(book, pack);
  contents(book);
  riser_sheets(book, pack);
  run_schedule(book, pack);
  circuit_schedule(book, pack);
  one_line_diagrams(book, pack);
  panel_schedules(book, pack);
  load_calculation(book, pack);
  starts_from_cold(book, pack);
  bill_of_materials(book, pack);
  settings_sheets(book, pack);
  the_week(book, pack);
  design_choices(book, pack);
  first_draw(book, pack);
  installation_sheets(book, pack);
  field_test_sheets(book, pack);
  commissioning_summary(book, pack);
  labels(book, pack);
  assumptions(book, pack);
  findings(book, pack);
  cautions(book, pack);
  sources(book, pack);
  book.finish();
}

std::string riser_svg(const Pack& pack, Typesetter& type, const std::string& title,
                      const RiserPicture& picture) {
  constexpr double names_mm = 40, legend_mm = 40, margin_mm = 4;
  const Frame whole{0, 0, pack.drawing.width_mm, pack.drawing.height_mm};
  const Frame view{-names_mm, -margin_mm, whole.right_mm + margin_mm, whole.bottom_mm + legend_mm};
  Svg svg(title + ": " + pack.job.site.name, view, type);
  svg.rectangle({view.left_mm, view.top_mm}, view.width_mm(), view.height_mm(), colours::white, std::nullopt);
  picture.draw(svg, whole);
  picture.draw_level_names(svg, whole, -2, names_mm - 3);
  picture.draw_legend(svg, whole, {0, whole.bottom_mm + 2}, whole.width_mm());
  return svg.finish();
}

template <class Draw>
std::string diagram_svg(const std::string& title, DrawingSize size, Typesetter& type, Draw draw) {
  constexpr double margin_mm = 4;
  const Frame view{-margin_mm, -margin_mm, size.width_mm + margin_mm, size.height_mm + margin_mm};
  Svg svg(title, view, type);
  svg.rectangle({view.left_mm, view.top_mm}, view.width_mm(), view.height_mm(), colours::white, std::nullopt);
  draw(svg);
  return svg.finish();
}

constexpr double chart_width_mm = 250, chart_height_mm = 90;

/// Seasons one below the other.
std::string group_week_svg(const Pack& pack, int group, Typesetter& type) {
  const auto& seasons = pack.week->seasons;
  const double height_mm = 1.4 * chart_height_mm;
  return diagram_svg("The week of group " + pack.job.groups[piping::at(group)].id,
                     {chart_width_mm, height_mm * static_cast<double>(seasons.size())}, type, [&](Ink& ink) {
                       double top_mm = 0;
                       for (const settings::SeasonAnswer& season : seasons) {
                         draw_group_week(ink, {0, top_mm, chart_width_mm, top_mm + height_mm - 4}, pack,
                                         season, group);
                         top_mm += height_mm;
                       }
                     });
}

/// Empty when neither curve was drawn.
std::string frontier_svg(const Pack& pack, Typesetter& type) {
  std::vector<LineChart> charts;
  if (!pack.week->comfort_curve.empty()) charts.push_back(comfort_frontier_chart(pack));
  if (!pack.week->band_curve.empty()) charts.push_back(band_frontier_chart(pack));
  if (charts.empty()) return "";
  return diagram_svg("Cost against comfort and hours in the growth band",
                     {chart_width_mm, chart_height_mm * static_cast<double>(charts.size())}, type,
                     [&](Ink& ink) {
                       double top_mm = 0;
                       for (const LineChart& chart : charts) {
                         draw_chart(ink, {0, top_mm, chart_width_mm, top_mm + chart_height_mm - 4}, chart);
                         top_mm += chart_height_mm;
                       }
                     });
}

std::string cost_svg(const Pack& pack, Typesetter& type) {
  const StackedBarChart chart = cost_chart(pack);
  const double height_mm = bar_chart_height_mm(chart);
  return diagram_svg(chart.title, {chart_width_mm, height_mm}, type,
                     [&](Ink& ink) { draw_chart(ink, {0, 0, chart_width_mm, height_mm}, chart); });
}

// Group ids as part of a file name; two ids never give the same name.
std::string file_part(const std::string& id) {
  std::string safe;
  for (const char letter : id) {
    const bool plain = (letter >= '0' && letter <= '9') || (letter >= 'A' && letter <= 'Z') ||
                       (letter >= 'a' && letter <= 'z') || letter == '-' || letter == '_';
    safe += plain ? std::string(1, letter) : fmt::format("%{:02x}", static_cast<unsigned char>(letter));
  }
  return safe.size() > 120 ? safe.substr(0, 120) : safe;
}

std::string records_text(const std::vector<store::Record>& records) {
  std::string text;
  for (const store::Record& record : records) text += store::canonical_text(record) + "\n";
  return text;
}

class Writer {
 public:
  Writer(const Pack& pack, std::filesystem::path folder, const Progress& progress, Typesetter& type)
      : pack_(pack), folder_(std::move(folder)), progress_(progress), type_(type) {}

  job::Result<std::vector<PackFile>> write() {
    report("hand-over pack", 0);
    auto pdf = pdf_of(
        identity_of(pack_.job, "Hand-over pack"), [this](Book& book) { set_book(book, pack_); }, type_);
    if (!pdf)
      return std::unexpected(file_trouble(folder_ / "hand-over.pdf", "cannot be set: " + pdf.error(), ""));
    if (auto done = store("hand-over.pdf", "the hand-over pack", *pdf); !done)
      return std::unexpected(done.error());
    report("workbook", 0.7);
    const auto created_s =
        std::chrono::duration_cast<std::chrono::seconds>(date_of(pack_.job.site).time_since_epoch()).count();
    if (auto done = write_workbook(pack_, folder_ / "schedules.xlsx", created_s); !done)
      return std::unexpected(done.error());
    files_.push_back({folder_ / "schedules.xlsx", "schedules and materials"});
    report("drawings", 0.85);
    if (auto done = drawings(); !done) return std::unexpected(done.error());
    report("plan", 0.95);
    if (auto done = for_programs(); !done) return std::unexpected(done.error());
    report("done", 1);
    return files_;
  }

 private:
  void report(const std::string& stage, double done) const {
    if (progress_) progress_(stage, done);
  }

  job::Result<void> store(const std::string& name, const std::string& what, const std::string& bytes) {
    auto done = write_file(folder_ / name, bytes);
    if (done) files_.push_back({folder_ / name, what});
    return done;
  }

  /// The same as text that programs read.
  job::Result<void> for_programs() {
    const auto json = [](const nlohmann::json& value) { return value.dump(2) + "\n"; };
    auto done = store("plan.json", "the plan, for programs", json(plan::to_json(pack_.job, pack_.plan)));
    if (done && pack_.forecast)
      done = store("forecast.json", "the forecast, for programs",
                   json(forecast::to_json(pack_.job, *pack_.forecast)));
    if (done && pack_.week)
      done = store("week.json", "the week, for programs", json(settings::to_json(pack_.job, *pack_.week)));
    if (done && pack_.field && !pack_.field->records.empty())
      done = store("records.jsonl", "the records, a line each, whose SHA-256 is the next one's link",
                   records_text(pack_.field->records));
    return done;
  }

  job::Result<void> drawings() {
    const RiserPicture riser(pack_.job, pack_.plan, pack_.drawing);
    if (auto done = store("riser.svg", "riser drawing", riser_svg(pack_, type_, "Riser drawing", riser));
        !done)
      return done;
    if (pack_.forecast) {
      const RiserPicture heat(pack_.job, pack_.plan, pack_.drawing,
                              growth_shades(pack_.job, *pack_.forecast));
      const std::string svg = riser_svg(pack_, type_, "Hours a day in the growth band", heat);
      if (auto done = store("riser-growth.svg", "riser drawing, hours in the growth band", svg); !done)
        return done;
    }
    if (auto done = one_lines(); !done) return done;
    if (auto done = week_drawings(); !done) return done;
    for (int group = 0; group < std::ssize(pack_.job.groups); ++group) {
      const std::string& id = pack_.job.groups[static_cast<std::size_t>(group)].id;
      const std::string wiring = diagram_svg("Wiring of group " + id, wiring_size, type_, [&](Ink& ink) {
        draw_wiring(ink, wiring_of(pack_.job, pack_.plan, group));
      });
      if (auto done = store("wiring-" + file_part(id) + ".svg", "wiring of group " + id, wiring); !done)
        return done;
      if (pack_.job.groups[static_cast<std::size_t>(group)].kind != job::ControlKind::pipe_sensor) continue;
      const std::string section =
          diagram_svg("Cable and sensor of group " + id, section_size, type_,
                      [&](Ink& ink) { draw_section(ink, section_of(pack_.job, pack_.plan, group)); });
      if (auto done = store("sensor-" + file_part(id) + ".svg", "cable and sensor of group " + id, section);
          !done)
        return done;
    }
    return {};
  }

  job::Result<void> week_drawings() {
    if (!has_week(pack_)) return {};
    for (const int group : charted_groups(pack_)) {
      const std::string& id = pack_.job.groups[piping::at(group)].id;
      if (auto done = store("week-" + file_part(id) + ".svg", "the week of group " + id,
                            group_week_svg(pack_, group, type_));
          !done)
        return done;
    }
    const std::string frontier = frontier_svg(pack_, type_);
    if (auto done = frontier.empty() ? job::Result<void>{}
                                     : store("frontier.svg",
                                             "cost against comfort and hours in the growth band", frontier);
        !done)
      return done;
    if (pack_.week->costs.empty()) return {};
    return store("costs.svg", "what a year costs", cost_svg(pack_, type_));
  }

  job::Result<void> one_lines() {
    for (const power::PanelLoad& load : pack_.plan.panels) {
      if (load.panel == piping::none || load.circuits.empty()) continue;
      const std::string& id = pack_.job.panels[piping::at(load.panel)].id;
      const std::string svg = one_line_svg(pack_.job, pack_.plan, load, type_);
      if (auto done = store("one-line-" + file_part(id) + ".svg", "one-line diagram of panel " + id, svg);
          !done)
        return done;
    }
    return {};
  }

  const Pack& pack_;
  std::filesystem::path folder_;
  const Progress& progress_;
  Typesetter& type_;
  std::vector<PackFile> files_;
};

}  // namespace

job::Result<std::vector<PackFile>> write_pack(const job::Job& job, const plan::Plan& plan,
                                              const std::filesystem::path& folder, const Progress& progress,
                                              const Beside& beside) {
  if (auto made = make_folder(folder); !made) return std::unexpected(made.error());
  auto type = Typesetter::create();
  if (!type) return std::unexpected(file_trouble(folder, type.error(), "install the package fonts-inter"));
  const RiserDrawing drawing = draw_riser(job, plan.network);
  const Pack pack{job,         plan,        drawing, Show(job), beside.forecast, current_grids(job, plan),
                  beside.week, beside.field};
  return Writer(pack, folder, progress, *type).write();
}

}  // namespace firstdraw::paper
