// Installation sheets of the control groups, and the door of all installation sheets.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "paper/install.hpp"
#include "paper/sheets.hpp"
#include "paper/week_words.hpp"

namespace firstdraw::paper {
namespace {

constexpr const char* part_title = "Installation sheets";
// Drawings are made smaller on paper, as far as their texts stay 6 pt.
constexpr double wiring_scale = 0.93, section_scale = 0.86;

struct Counts {
  std::size_t connections = 0, tees = 0, ends = 0;
  double cable_m = 0;
};
Counts counts_of(const std::vector<const power::Circuit*>& circuits) {
  Counts counts;
  for (const power::Circuit* circuit : circuits) {
    ++counts.connections;
    counts.tees += circuit->tee_nodes.size();
    counts.ends += circuit->end_nodes.size();
    counts.cable_m += circuit->cable_length_m;
  }
  return counts;
}

double traced_m(const Pack& pack, int group) {
  double sum_m = 0;
  for (const power::Circuit* circuit : circuits_of(pack.plan, group))
    for (int run : circuit->runs) sum_m += pack.job.runs[static_cast<std::size_t>(run)].length_m;
  return sum_m;
}

std::string contactor_text(const power::Switching& switching) {
  return fmt::format(
      "Contactor: {} poles, each for at least {} A, utilization category AC-1; coil at the "
      "controller's load voltage",
      switching.poles, count(switching.pole_a, 1));
}

// Which circuits wait how long when the group comes on.
std::string start_order(const Pack& pack, int group) {
  std::string text;
  for (const power::Circuit* circuit : circuits_of(pack.plan, group))
    if (circuit->start.delay_s > 0)
      text += fmt::format("{}{} {}", text.empty() ? "" : ", ", circuit->id,
                          pack.show.with_unit(circuit->start.delay_s, Kind::duration));
  return text.empty() ? ""
                      : "Circuits that wait at every return of power (“Starts from cold”): " + text + ".";
}

void parts_and_tools(Book& book, const Pack& pack, int index) {
  const job::ControlGroup& group = pack.job.groups[static_cast<std::size_t>(index)];
  const auto circuits = circuits_of(pack.plan, index);
  const Counts counts = counts_of(circuits);
  const rules::LabelSpacing labels = rules::label_spacing(pack.job.requirements.rules);
  heading(book, "Have before starting", 30);
  std::vector<std::string> parts{fmt::format("Controller for group {}{}", group.id,
                                             group.kind == job::ControlKind::pipe_sensor
                                                 ? ", with pipe sensor and lead"
                                                 : " (entered ambient: no sensor)")};
  if (const power::Switching switching = switching_of(pack.plan, index); switching.contactor)
    parts.push_back(contactor_text(switching));
  parts.push_back(fmt::format(
      "{} of heating cable; {} power connections, {} tees, {} end seals, kits of the cable's maker",
      pack.show.with_unit(counts.cable_m, Kind::length), counts.connections, counts.tees, counts.ends));
  parts.push_back(fmt::format("Aluminium tape for cable and sensor; {:.0f} caution labels, one every {} ({})",
                              std::ceil(traced_m(pack, index) / labels.spacing_m),
                              pack.show.with_unit(labels.spacing_m, Kind::length),
                              citation_text(labels.citation)));
  parts.emplace_back(
      "Insulation of the sizes in the run schedule, valve covers, conduit, fittings, sealing bushes");
  bullets(book, parts);
  paragraph(
      book,
      "Tools: insulation-resistance tester (to 2500 V dc), multimeter, true-RMS clamp meter, contact "
      "thermometer, ground-fault "
      "tester, voltage tester with proving unit, locks and tags, cutters and strippers, torque screwdriver, "
      "hot-air gun if the "
      "connection kits shrink. Write instrument serials and calibration dates on the field-test sheets.");
}

void controller_place(Book& book) {
  heading(book, "Where the controller goes", 20);
  bullets(book,
          {("Dry, clean and indoors, inside the ambient limits on its label; not over a heater, not under a "
            "pipe joint or drain."),
           ("Reachable from the floor, display at eye height, with the working space in front that the code "
            "asks for."),
           ("Conduits enter from below or from the side, never from the top: water follows a conduit. Seal "
            "every entry, plug what is not used, leave a drip loop."),
           "Line and load in one conduit system; sensor, alarm and building management in another.",
           "Mark the controller with its group, panel and circuits; leave this sheet inside the door."});
}

void wiring(Book& book, const Pack& pack, int index) {
  const double drawing_mm = wiring_size.height_mm * wiring_scale;
  heading(book, "Wiring", drawing_mm + 4);
  book.push({book.frame().left_mm, book.y_mm()}, wiring_scale);
  draw_wiring(book, wiring_of(pack.job, pack.plan, index));
  book.pop();
  book.skip(drawing_mm + 1);
  flow(book, control_wiring(pack, index));
}

void sensor_place(Book& book, const Pack& pack, int index) {
  const job::ControlGroup& group = pack.job.groups[static_cast<std::size_t>(index)];
  if (group.kind != job::ControlKind::pipe_sensor) {
    heading(book, "No sensor", 20);
    caution(book, "Open loop",
            "This group has no pipe sensor: no high alarm, no low alarm and no high-temperature cut-out. The "
            "pipe's temperature "
            "follows the air around it; enter the true ambient and look again in summer and in winter.");
    return;
  }
  const double drawing_mm = section_size.height_mm * section_scale;
  heading(book, "Sensor: place and fixing", drawing_mm + 4);
  book.push({book.frame().left_mm, book.y_mm()}, section_scale);
  draw_section(book, section_of(pack.job, pack.plan, index));
  book.pop();
  book.skip(drawing_mm + 1);
  bullets(book, {fmt::format("On run {}, downstream of the mixing valve, on a straight stretch of traced "
                             "pipe, away from valves, tees and supports.",
                             group.sensor_run.empty() ? "(none named: see Findings)" : group.sensor_run),
                 ("On the side of the pipe opposite the cable (180°). Beside the cable it reads high and the "
                  "water is cold."),
                 ("Clean the pipe, lay the sensor lengthwise, press it on with aluminium tape over its whole "
                  "length; on plastic pipe, tape under it too."),
                 ("Lead out through a sealed slit, with slack, strapped outside the insulation. Insulation "
                  "closes over sensor and cable alike.")});
  if (std::abs(group.sensor_angle_rad - std::numbers::pi) > 0.1)
    caution(book, "The job places this sensor elsewhere",
            fmt::format("The job says {:.0f}° from the cable; the drawing shows that. Opposite the cable is "
                        "right: move it, or the reading is not the water's.",
                        group.sensor_angle_rad * 180 / std::numbers::pi));
}

void covering(Book& book) {
  heading(book, "Insulation and labels", 20);
  bullets(
      book,
      {"Only after the second test has passed, and soon: bare cable gets hurt by every trade that passes.",
       ("Sizes as in the run schedule: they clear pipe and cable. Do not force a smaller one; a gap over the "
        "cable is a cold run."),
       ("Cover valves, unions, tees and supports. Joints tight, dry, sealed against vapour where the pipe "
        "may "
        "sweat."),
       ("Caution labels on the jacket, in sight on every side it can be reached from, at every connection, "
        "tee and end."),
       "Write the place of every hidden connection, tee and end on the record drawing."});
}

void group_steps(Book& book) {
  heading(book, "In this order, with a test at each step", 24);
  steps(
      book,
      {("On receipt: every reel is the cable on the bill of materials, undamaged; test insulation resistance "
        "and continuity; write it down."),
       ("Pipe has passed its pressure test, is dry, smooth and supported; the routes on the riser drawing "
        "are "
        "what is there."),
       ("Fix the cable, leave the allowances at valves and supports; fit connections, tees and ends; test "
        "before insulating."),
       "Fix the sensor; measure its resistance at a known temperature against its table; write it down.",
       ("Insulate over cable and sensor; put on the labels; test again. A reading that fell: stop and find "
        "out before anything is closed."),
       ("Wire panel, controller, alarm; torque the terminals; test the supply wiring with controller and "
        "sensor disconnected."),
       "Enter the settings; test the ground-fault device with its button and with a tester; test the alarm.",
       ("Energise circuit by circuit; read voltage, current and pipe temperature at 0 s, 300 s and when "
        "steady.")});
}

void first_day(Book& book, const Pack& pack, int index) {
  const auto planned = pack.plan.groups.size() > static_cast<std::size_t>(index)
                           ? pack.plan.groups[static_cast<std::size_t>(index)]
                           : plan::GroupPlan{};
  heading(book, "First power-up and first day", 40);
  if (const std::string order = start_order(pack, index); !order.empty()) paragraph(book, order);
  bullets(book,
          {fmt::format("The slowest run should be at its set-point {} after a cold start with nobody "
                       "drawing; look again then.",
                       hours(planned.heat_up_s)),
           fmt::format("Settled, the controller should be on about {} of the time at the maintain "
                       "temperature in usual air.",
                       percent(planned.duty)),
           ("Read every circuit's current at a known pipe temperature and compare it with the table of its "
            "sheet. Less than expected: a "
            "length of cable that does not heat, or low voltage. More: pipe colder than the thermometer "
            "says, or wet insulation."),
           ("Measure the pipe under the insulation at the far end of every circuit with the contact "
            "thermometer; open the farthest taps and time the hot water."),
           ("Measure the hottest outlets. Where one passes its limit, no hand-over before a safe-outlet "
            "valve is in place and set.")});
}

void group_sheet(Book& book, const Pack& pack, int index) {
  const job::ControlGroup& group = pack.job.groups[static_cast<std::size_t>(index)];
  std::string circuits;
  for (const power::Circuit* circuit : circuits_of(pack.plan, index))
    circuits += (circuits.empty() ? "" : ", ") + circuit->id;
  sheet(
      book, "Install: group " + group_name(pack.job, index),
      fmt::format("{}: one for each control group, then one for each circuit. Tick the boxes as you go; what "
                  "cannot be ticked goes to the person named on the cover. {}",
                  part_title, authority_statement),
      Book::Way::upright, index == 0 ? part_title : "");
  facts(book, {{"Panel", group.panel},
               {"Circuits", circuits},
               {"Sensor on run",
                group.kind == job::ControlKind::pipe_sensor ? group.sensor_run : "none: entered ambient"},
               {"Maintain · setback", has_week(pack)
                                          ? "by the week: sheet Control settings"
                                          : pack.show.with_unit(group.maintain_c, Kind::temperature) + " · " +
                                                pack.show.with_unit(group.setback_c, Kind::temperature)}});
  parts_and_tools(book, pack, index);
  controller_place(book);
  wiring(book, pack, index);
  sensor_place(book, pack, index);
  covering(book);
  group_steps(book);
  first_day(book, pack, index);
}

}  // namespace

Wiring wiring_of(const job::Job& job, const plan::Plan& plan, int group) {
  Wiring wiring;
  wiring.group = job.groups[static_cast<std::size_t>(group)].id;
  wiring.panel = job.groups[static_cast<std::size_t>(group)].panel;
  wiring.contactor = switching_of(plan, group).contactor;
  wiring.sensor = job.groups[static_cast<std::size_t>(group)].kind == job::ControlKind::pipe_sensor;
  const auto panel = std::ranges::find(job.panels, wiring.panel, &job::Panel::id);
  for (int which : {0, 1})
    wiring.phase_names[which] = phase_name(panel == job.panels.end() ? nullptr : &*panel, which);
  for (const power::Circuit& circuit : plan.circuits) {
    if (circuit.group != group) continue;
    if (wiring.circuits.empty())
      wiring.breaker = fmt::format("{}-pole, {:.0f} mA", circuit.poles, circuit.ground_fault_trip_a * 1000);
    wiring.circuits.push_back(circuit.id);
  }
  return wiring;
}

SensorSection section_of(const job::Job& job, const plan::Plan& plan, int group) {
  const job::ControlGroup& control = job.groups[static_cast<std::size_t>(group)];
  SensorSection section{control.sensor_angle_rad, 1};
  for (std::size_t run = 0; run < job.runs.size() && run < plan.runs.size(); ++run)
    if (job.runs[run].id == control.sensor_run) section.passes = std::clamp(plan.runs[run].passes, 1, 3);
  return section;
}

void installation_sheets(Book& book, const Pack& pack) {
  if (pack.job.groups.empty()) part(book, part_title);
  for (int group = 0; group < std::ssize(pack.job.groups); ++group) group_sheet(book, pack, group);
  for (const power::Circuit& circuit : pack.plan.circuits) circuit_sheet(book, pack, circuit);
}

}  // namespace firstdraw::paper
