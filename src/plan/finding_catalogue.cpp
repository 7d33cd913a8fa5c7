#include "plan/finding_catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "plan/plan.hpp"

namespace firstdraw::plan {

namespace {

using enum Severity;

constexpr std::string_view survey = "Survey", thermal = "Thermal design", control = "Control and hygiene",
                           delivery = "Delivery", scald = "Scalding", electrical = "Electrical",
                           records = "Accepted findings", the_week = week_subject, logs = logs_subject,
                           field_tests = tests_subject;

constexpr CatalogueEntry entries[] = {
    // Survey
    {"unknown-supply", stop, survey, "Supply node is on no run",
     "The piping is read from the water heater downwards; without its node nothing can be followed.",
     "Give supply.node the name of the node where the first run starts."},
    {"loop", stop, survey, "Runs form a loop",
     "A supply tree has one way to every tap; with a loop neither flow nor circuits are defined.",
     "Correct from and to of the named run; a return line does not belong in the job."},
    {"disconnected", stop, survey, "Run does not hang on the supply",
     "A run that no water reaches from the heater is left out of circuits, materials and the pack.",
     "Correct a node name, or add the run that is missing between it and the supply."},
    {"two-feeds", stop, survey, "Node is fed by two runs",
     "Water could reach the node two ways, so one of the two rows is almost surely a slip.",
     "Correct to of the named run, or split the node."},
    {"length-zero", stop, survey, "Run has no length",
     "A run without length takes no cable and loses no heat, and what it should have had is missing.",
     "Measure the run and enter its length, or delete the row."},
    {"run-very-long", note, survey, "Run is very long",
     "Straight runs this long are rare indoors; a slip of units or of the decimal point is common.",
     "Check the length and its unit; if it is right, accept the finding."},
    {"size-grows", fix, survey, "Pipe grows downstream",
     "Supply pipe gets smaller from the heater to the taps; a larger pipe downstream is usually a slip, and "
     "holds "
     "more stagnant water if it is not.",
     "Check both sizes on the drawing and on the pipe."},
    {"level-jump", fix, survey, "Run changes level without a riser",
     "Two horizontal runs that meet cannot lie on two levels: a vertical run is missing or a level is wrong.",
     "Add the vertical run, or correct the level."},
    {"air-assumed", note, survey, "Air temperature was not given",
     "The coldest air decides whether the cable is strong enough, the hottest how hot the pipe gets.",
     "Measure or ask, and enter air_low, air_usual and air_high of the space."},
    {"air-order", stop, survey, "Air temperatures are out of order",
     "With low above usual, or usual above high, the worst cases are not the worst.",
     "Enter low, usual and high in rising order."},
    {"air-implausible", fix, survey, "Air temperature is implausible",
     "Air colder than -40 or hotter than 60 degC around hot-water pipe is more likely a wrong unit.",
     "Check the value and its unit."},
    {"dead-end", fix, survey, "Pipe ends without an outlet",
     "Water in a dead end is not renewed: it grows bacteria even where the cable keeps it warm.",
     "Add the outlet that is missing, or have the dead end removed."},
    {"outlet-nowhere", stop, survey, "Outlet is on an unknown node",
     "An outlet that hangs on no run cannot be supplied or checked.",
     "Give the outlet the name of the node at the end of a run."},
    {"outlet-not-reached", stop, survey, "Outlet is not reached from the supply",
     "The run that feeds the outlet does not hang on the supply.", "Connect the run that feeds it."},
    {"nothing-traced", fix, survey, "No run is traced", "A job without traced runs has nothing to design.",
     "Mark the runs to be traced in the column traced."},
    {"traced-no-group", stop, survey, "Traced run has no control group",
     "Without a group there is no set-point, no panel and no circuit for the run.",
     "Enter the run's group, or mark it untraced."},
    {"group-empty", fix, survey, "Control group has no traced runs",
     "A controller without cable would be bought and wired for nothing.",
     "Assign runs to the group, or delete it."},
    {"untraced-gap", fix, survey, "Untraced run between traced runs",
     "Water passes the gap before each draw downstream: it cools there, and no circuit can cross it.",
     "Trace the run too, or confirm that the gap is intended and accept the finding."},
    {"mixing-valve-none", fix, survey, "Stored hotter than delivered, but no mixing valve",
     "If nothing tempers the water, what reaches the taps is the stored temperature.",
     "Enter supply.mixing_valve_node, or make the delivered temperature equal to the stored one."},
    // Thermal design
    {"no-cable", stop, thermal, "No cable fits the run",
     "No allowed cable and insulation satisfies the worst case.",
     "Allow a stronger cable, more passes or thicker insulation."},
    {"hold-cold", stop, thermal, "Run cannot hold in the worst case",
     "At the coldest air, the lowest voltage and the weakest cable of its tolerance the loss with margin "
     "exceeds "
     "the cable's output.",
     "Thicker insulation, a stronger cable or a second pass; or a lower maintain temperature if hygiene "
     "allows it."},
    {"hold-shared", fix, thermal, "Run stays colder than asked under its group's shared duty",
     "One sensor gives all runs of a group the same duty; a run that loses more than the sensor run stays "
     "colder.",
     "Put the sensor on this run, insulate it better, or give it a group of its own."},
    {"hold-hot", note, thermal, "Run gets hotter than asked under its group's shared duty",
     "A run that loses less than the sensor run gets more heat than it needs: it wastes energy and can "
     "scald.",
     "Give it a group of its own, or level the insulation between the runs."},
    {"hold-unlikely", fix, thermal, "Group may not hold, tolerances considered",
     "With the usual spread of insulation, cable, voltage, air and sensor, the chance that every run holds "
     "is low.",
     "Add margin where a run is first to fail, or accept the risk with a reason."},
    {"pipe-too-hot", stop, thermal, "Pipe gets too hot when the control sticks on",
     "A welded contact or failed controller leaves the cable on; the pipe material must survive that.",
     "Use a weaker cable, or a high-temperature cut-out independent of the controller."},
    {"insulation-too-hot", stop, thermal, "Insulation gets too hot when the control sticks on",
     "Above its service limit insulation shrinks, smokes or burns.",
     "Use insulation with a higher limit, a weaker cable or an independent cut-out."},
    {"cable-too-hot", stop, thermal, "Cable gets hotter than it may be while powered",
     "Above its maximum powered temperature a self-regulating cable ages fast and can fail.",
     "Use a cable with a higher rating, a weaker one or an independent cut-out."},
    {"cable-hot-water", stop, thermal, "Water passing is hotter than the cable may be while powered",
     "The cable is on while water from the heater passes; its data sheet limits that temperature.",
     "Temper the water before the traced runs, or use a cable rated for it."},
    {"insulation-small", fix, thermal, "Insulation does not clear pipe and cable",
     "Insulation forced over the cable gapes at the seam, and the loss is far above the design.",
     "Order the next bore that clears pipe and cable, and seal the joint."},
    {"insulation-below-code", fix, thermal, "Insulation is thinner than the energy code wants",
     "The code's least thickness applies to traced pipe too.",
     "Use at least the thickness named, or show the authority an accepted alternative."},
    {"traced-bare", stop, thermal, "Traced run has no insulation",
     "Heating cable on bare pipe cannot hold a hot-water temperature.", "Enter the insulation of the run."},
    {"sheet-extrapolated", note, thermal, "Data sheet ends before this temperature",
     "The output there is the last value of the table held constant, which is not what the maker states.",
     "Ask the maker for the output at this temperature and extend the sheet."},
    {"plastic-derated", note, thermal, "Cable gives less on plastic pipe",
     "Plastic spreads heat poorly, the wall under the cable runs warmer and a self-regulating cable turns "
     "itself "
     "down; the data sheet is for metal pipe.",
     "Follow the maker's instructions for plastic pipe, as a rule an aluminium tape over the cable."},
    {"warm-up-long", note, thermal, "Warming up from cold takes long",
     "After a shutdown the water stays in the growth band until it is warm.",
     "Flush with hot water from the heater before the pipes are given back to use."},
    {"passes-do-not-fit", fix, thermal, "Cable passes do not fit around the pipe",
     "Cables that touch or cross heat each other and are damaged.", "Use fewer passes of a stronger cable."},
    // Control and hygiene
    {"sensor-none", fix, control, "Control group has no sensor",
     "Without a sensor there is no temperature control, no high or low alarm and no high-temperature "
     "cut-out.",
     "Enter sensor_run of the group, or choose control from an entered ambient."},
    {"open-loop", note, control, "Group is controlled from an entered ambient",
     "Nobody measures the pipe: there is no high alarm, no low alarm and no high-temperature cut-out.",
     "Consider a pipe sensor; otherwise check the pipes by thermometer as the water management plan says."},
    {"ambient-missing", stop, control, "No ambient entered for open-loop control",
     "The controller computes its duty from this number alone.", "Enter ambient of the group."},
    {"ambient-far", fix, control, "Entered ambient is far from the air around the runs",
     "Every kelvin of error in the entered ambient moves the water temperature.",
     "Enter the length-weighted usual air of the group's runs, or divide the group by space."},
    {"sensor-above-valve", stop, control, "Sensor is upstream of the mixing valve",
     "There it reads the stored temperature: the controller sees hot pipe and leaves the tempered runs cold.",
     "Put the sensor on a traced run downstream of the mixing valve."},
    {"sensor-untraced", stop, control, "Sensor is on an untraced run",
     "It reads a pipe the cable does not heat; the controller never finds its set-point and stays on.",
     "Put the sensor on a traced run of the group."},
    {"sensor-other-group", fix, control, "Sensor is on a run of another group",
     "The controller would regulate by a pipe that another controller heats.",
     "Put the sensor on a run of its own group."},
    {"sensor-angle", fix, control, "Sensor sits beside the cable",
     "Beside the cable the sensor shares its warm pocket, reads high, and the water stays cold.",
     "Fix the sensor opposite the cable, at 180 degrees, under the insulation."},
    {"sensor-lost-on", note, control, "Group stays on when its sensor is lost",
     "A broken sensor is then the same as a control that sticks on: the pipe settles where cable and loss "
     "balance, and only a cut-out with a sensor of its own ends it.",
     "Give the cut-out a sensor of its own and have the alarm answered, or choose \"off\" or \"ambient\"."},
    {"sensor-not-governing", note, control, "Another run would govern better",
     "The sensor belongs on the run that loses most for its cable; on any other run that one stays colder.",
     "Move the sensor to the run named, or accept the temperatures of the schedule."},
    {"maintain-growth", stop, control, "Maintain temperature lies in the growth band of Legionella",
     "Water held in this band for hours is where the bacteria multiply.",
     "Raise the maintain temperature above the band, or have the responsible person decide in writing."},
    {"setback-growth", fix, control, "Setback lies in the growth band of Legionella",
     "During setback standing water spends hours in the band.",
     "Raise or leave out the setback; if it stays, the water management plan must cover it."},
    {"setback-above-maintain", fix, control, "Setback is above maintain",
     "The setback saves nothing and the schedule works backwards.",
     "Exchange or correct the two temperatures."},
    {"off-period", note, control, "Group is switched off at hours of the week",
     "While it is off, and until it is warm again, standing water passes through the growth band of "
     "Legionella.",
     "Hold the pipes instead, or have the water management plan cover the hours and a flush after them."},
    {"maintain-below-guideline", fix, control, "Maintain temperature is below the hygiene guideline in force",
     "The guideline chosen for the job asks for hotter water in the pipes.",
     "Raise the maintain temperature, or choose the guideline that applies."},
    {"setback-below-guideline", note, control, "Setback is below the hygiene guideline in force",
     "For the hours of setback the pipes do not meet the guideline.",
     "Leave out the setback, or have the water management plan cover it."},
    {"stored-below-guideline", fix, control, "Stored water is below the hygiene guideline in force",
     "The heater is the first barrier; tracing cannot make up for it.",
     "Raise the storage temperature and temper after it."},
    {"delivered-below-guideline", fix, control, "Delivered water is below the hygiene guideline in force",
     "What leaves the mixing valve is already colder than the guideline asks of the pipes.",
     "Raise the mixing valve and put safe-outlet valves at the taps."},
    {"maintain-above-delivered", fix, control, "Maintain temperature is above the delivered temperature",
     "Standing water is heated above what the mixing valve lets through: the first draw is hotter than "
     "people expect.",
     "Lower the maintain temperature, or check the outlets against it and protect them."},
    {"cutout-none", fix, control, "Group has no high-temperature cut-out",
     "If the control sticks on, nothing else stops the cable.",
     "Enter cutout above the maintain temperature."},
    {"cutout-low", fix, control, "High-temperature cut-out is not above maintain",
     "The cut-out would trip in normal operation and leave the pipes cold.",
     "Set it above the maintain temperature and its control band."},
    {"cutout-too-high", note, control, "High-temperature cut-out does not protect",
     "It trips only after the pipe or the cable has passed its limit.",
     "Set it below the lowest limit of pipe and cable in the group."},
    {"cutout-relied-on", note, control, "Only the cut-out keeps a limit if the control sticks on",
     "Without the cut-out the run would pass the limit of its pipe, insulation or cable.",
     "Give the cut-out a sensor and a contactor of its own, and test it at every inspection."},
    {"low-alarm-high", fix, control, "Low alarm is not below maintain",
     "The alarm would sound in normal operation and be silenced for good.",
     "Set it below the maintain temperature less the tolerance."},
    {"high-alarm-low", fix, control, "High alarm is not above maintain",
     "The alarm would sound in normal operation and be silenced for good.",
     "Set it above the maintain temperature."},
    {"healthcare-trace", note, control, "Heat tracing is relied on in a healthcare building",
     "Some owners of healthcare buildings forbid tracing in place of circulation.",
     "Ask the owner and the authority for their written consent before ordering."},
    {"energy-against-hygiene", note, control, "Energy code and hygiene guideline pull apart",
     "Energy codes want maintenance off when nobody draws; hygiene guidance wants the pipes hot at all "
     "times.",
     "Let the responsible person decide the schedule in writing, and keep the decision with the pack."},
    // Delivery
    {"runout-long", fix, delivery, "Untraced pipe to the outlet is longer than allowed",
     "What stands in untraced pipe goes cold and runs off before hot water comes.",
     "Trace closer to the outlet, shorten the pipe or use a smaller size."},
    // Scalding
    {"outlet-scald", stop, scald, "Outlet above its limit without a safe-outlet valve",
     "At these temperatures skin burns in seconds to minutes.",
     "Fit a thermostatic safe-outlet valve at the outlet and record it in outlets.csv."},
    {"scald-stuck-on", fix, scald, "Outlet could scald if the control sticks on",
     "The first draw after a control failure would be above the outlet's limit.",
     "Fit a safe-outlet valve, or a cut-out at or below the limit, independent of the controller."},
    // Electrical
    {"no-ground-fault", stop, electrical, "Panel has no ground-fault protection for heating cable",
     "An ordinary breaker may not stop an arcing fault in a damaged cable, which can start a fire.",
     "Use breakers with ground-fault protection of equipment, or an equivalent residual-current device."},
    {"voltage-not-listed", stop, electrical, "Panel voltage is not in the cable's data sheet",
     "Output, current and lengths at this voltage are not stated by the maker.",
     "Choose a cable for this voltage, or feed it from another."},
    {"voltage-low-not-listed", fix, electrical, "Lowest panel voltage is below the cable's data sheet",
     "The worst case takes the output of the sheet's lowest voltage, which is more than the cable gives.",
     "Ask the maker for the output at this voltage and extend the sheet, or correct the panel's `lowest`."},
    {"voltage-high-not-listed", fix, electrical, "Highest panel voltage is above the cable's data sheet",
     "The hottest cases take the output of the sheet's highest voltage, which is less than the cable gives.",
     "Choose a cable listed for this voltage, or correct the panel's `highest`."},
    {"no-circuit", stop, electrical, "Traced run is on no circuit",
     "A cable without a circuit is never energised.",
     "Give its group a panel and connect the run to the supply."},
    {"over-80", stop, electrical, "Continuous load above what the breaker may carry",
     "Heating cable is a continuous load; breaker and conductors would run hot and trip.",
     "Divide the run, use a weaker cable, or give a circuit that stands the breaker it needs."},
    {"breaker-beyond-sheet", stop, electrical, "Breaker is not in the cable's data sheet",
     "The maker lists the breakers that protect the bus wires; behind another one they may burn before it "
     "trips.",
     "Use a breaker that the data sheet lists, or ask the maker in writing."},
    {"breaker-not-standard", fix, electrical, "Given breaker has no standard rating",
     "A rating that no standard knows is a slip of the pen, or a device of unknown behaviour.",
     "Correct the rating in circuits.csv, or change the breaker."},
    {"over-length", stop, electrical, "Cable is longer than its circuit may be",
     "Beyond the maker's length the far end is weak and the breaker may trip at a cold start.",
     "Feed the run from its middle, split it in two, or use a cable that allows the length."},
    {"length-not-listed", fix, electrical, "Data sheet gives no circuit length for this voltage and start",
     "The circuits are limited by current and leakage alone, without the maker's word.",
     "Add the maker's lengths to the sheet, or raise the start temperature if that is justified."},
    {"leakage-budget", fix, electrical, "Standing leakage is over its budget",
     "A ground-fault device that already carries this much trips for no fault.", "Divide the circuit."},
    {"no-steady-state", stop, electrical, "No steady voltage along the circuit",
     "The cable asks for more than its wires can bring: the far end goes dead, and nothing computed for the "
     "circuit holds.",
     "Divide the circuit, or feed it nearer to its middle."},
    {"feeder-drop", note, electrical, "Voltage drop in the wiring is above the recommendation",
     "The cable gets less voltage than the panel gives.",
     "Use the next conductor size, or move the panel closer."},
    {"total-drop", note, electrical, "Voltage drop to the far end is above the recommendation",
     "The far end of the circuit gives less heat.",
     "Feed the circuit nearer to its middle, divide it, or use a larger conductor."},
    {"far-voltage-not-listed", fix, electrical, "Voltage at the far end is below the cable's data sheet",
     "What the cable gives there is not stated by its maker.",
     "Divide the circuit, feed it nearer to its middle, or use a larger conductor."},
    {"far-voltage", fix, electrical, "The fall of voltage leaves a run too little heat",
     "The run would hold in the worst case with the panel's lowest voltage all along, but not with what "
     "wiring and cable leave of it.",
     "Divide the circuit, feed it elsewhere, use larger conductors, or give the run more cable or "
     "insulation."},
    {"no-conductor", stop, electrical, "No conductor was found for the circuit",
     "No size of the tables carries the load behind the breaker and keeps the drop; wiring by guess runs hot "
     "or starves the cable.",
     "Change what the job says of its wiring or of the circuit's breaker, or divide the circuit."},
    {"no-raceway", fix, electrical, "No raceway was found for the circuit",
     "Conductors that fill a raceway beyond the table are damaged when drawn in and run hot.",
     "Draw fewer circuits into one raceway, or choose another kind or insulation."},
    {"grouping-bites", note, electrical, "Circuits drawn together need larger conductors",
     "Conductors in one raceway warm each other and may carry less.",
     "Draw fewer circuits into one raceway, or pay for the larger conductors."},
    {"no-supply-conductor", fix, electrical, "No conductor was found for the panel's supply",
     "No size of the tables carries the panel's load and keeps the drop.",
     "Use a second panel, or state the supply that stands."},
    {"supply-small", fix, electrical, "Panel supply is smaller than its load needs",
     "The conductors that feed the panel would run hot with all heating cable on.",
     "Use larger conductors, or take load off the panel."},
    {"supply-drop", note, electrical, "Voltage drop in the panel's supply is above the recommendation",
     "Every circuit of the panel gets less voltage.", "Use larger conductors, or move the panel."},
    {"start-trips", stop, electrical, "Breaker must trip at a cold start",
     "The current stays above the standard's tripping point for longer than it allows.",
     "Divide the circuit, use a larger breaker that the data sheet allows, or start from warmer pipe."},
    {"start-not-assured", note, electrical, "Cold start is not assured by the breaker standard",
     "The current at switching on exceeds what the standard makes every breaker hold; the maker's curve "
     "decides.",
     "Compare the data sheet's start current with the breaker maker's time-current curve."},
    {"start-model-off", note, electrical, "Model of the start does not follow the data sheet",
     "The sheet's outputs and start currents are not those of one self-regulating core; the start is then "
     "judged by the sheet's two points, which is never below the truth.",
     "Check the sheet against the maker's, and ask the maker for the course of the current."},
    {"start-above-limit", fix, electrical, "Panel cannot start its circuits within its limit",
     "Even one after another they draw more than its main or the limit asked for.",
     "Use a second panel or a larger main, or start from warmer pipe."},
    {"start-in-sequence", note, electrical, "Circuits of the panel must start one after another",
     "All at once they pass the main or the limit asked for; after an outage too.",
     "Have the controls keep the sequence at every return of power."},
    {"panel-overload", fix, electrical, "Panel main is overloaded",
     "Heating cable is a continuous load on the main too.", "Use a second panel or a larger main."},
    {"panel-poles", fix, electrical, "Panel has too few free poles",
     "The circuits do not fit into the panel.", "Add a panel, or join circuits by longer permitted lengths."},
    {"phase-imbalance", note, electrical, "Phases are unequally loaded",
     "Unequal load heats the neutral and one phase of the feeder.",
     "Exchange circuits between phases, also with other loads of the panel."},
    {"contacts-small", note, electrical, "Controller cannot switch its circuit by itself",
     "Contacts that carry more than they are made for weld, and then the cable is always on.",
     "Let a contactor switch the circuit, as the materials say."},
    {"layout-conflict", fix, electrical, "A pin or fixed circuit cannot be kept",
     "What was asked for contradicts the piping, a breaker or another demand; the layout leaves it out.",
     "Correct the pin or the row of circuits.csv."},
    {"layout-not-proven", note, electrical, "The layout may not be the cheapest",
     "Large headers and many pins are beyond the exact search; the layout is a good one, and a bound says "
     "how "
     "much better any could be.",
     "Look over the branches of large headers by hand, or leave it."},
    {"circuit-gone", note, electrical, "A known circuit is not recognised any more",
     "Labels and records of the building still carry its name.",
     "Take its label off pipe and panel, or mark it as fixed in circuits.csv."},
    {"rule-overridden", note, electrical, "A rule is set aside",
     "The plan follows the value of the person named, not the rule's.",
     "Have the consent of the authority having jurisdiction in writing."},
    {"override-idle", note, electrical, "An override changes nothing",
     "It has the rule's own value, or no circuit meets the rule.", "Delete the override from job.toml."},
    // Accepted findings
    {"acceptance-unknown", fix, records, "Acceptance names an unknown finding",
     "A mistyped acceptance accepts nothing.", "Correct the id: this page lists them all."},
    {"acceptance-idle", note, records, "Acceptance matches no finding",
     "What was accepted no longer occurs, or not at this place.", "Delete the acceptance."},
    // The week: raised by room settings
    {"week-impossible", fix, the_week, "No week of settings keeps all that is asked",
     "What the guideline, the taps and the controller ask together is more than any set-point can give.",
     "Ease what the finding names, or give the runs it names more cable or insulation."},
    {"week-run-cold", fix, the_week, "A run stays too cold at any set-point",
     "Set-points cannot help a run that needs more than the group's duty gives it; it was left out of the "
     "search.",
     "Give the run thicker insulation, more cable or a group of its own."},
    {"week-run-short", fix, the_week, "A run holds less than asked in the simulation",
     "Fewer of the simulated buildings than asked kept the run as warm as asked, and higher set-points did "
     "not change it.",
     "Look for untraced pipe above the run and for a sensor that flowing water keeps content; then search "
     "again."},
    {"week-comfort-missed", fix, the_week, "Too few draws are hot in time",
     "In the simulation fewer draws were hot in time than the target asks; set-points no longer change it.",
     "Shorten runouts, move the sensor, or set a target that the building can reach."},
    {"week-band-long", fix, the_week, "Water stays in the growth band for longer than asked",
     "Bacteria multiply in water that stands in the band.",
     "Raise set-points or the time allowed, or have the water management plan cover it."},
    {"week-hot-hold-left-out", fix, the_week, "The weekly hot hold was left out",
     "Pipes, insulation, cable or taps without a safe-outlet valve do not allow water so hot.",
     "Fit safe-outlet valves or other materials, lower hot_hold_at, or disinfect by other means."},
    {"week-unseen-fault", note, the_week, "A fault would not be noticed in time",
     "Alarms that stay quiet in ordinary weeks do not see this fault within the time asked for.",
     "Do what the finding names: watch the circuit's current, or test the group at fixed intervals."},
    {"week-scald", fix, the_week, "Settings make water hotter than the outlet's limit",
     "Water reaches a tap without a safe-outlet valve hotter than the rules allow there.",
     "Fit a safe-outlet valve or lower the set-points."},
    {"week-sensor-place", note, the_week, "Another place of the sensor would cost less",
     "Where the sensor sits decides how warm all other runs of the group are kept.",
     "Move the sensor to the run that the finding names, and key in the set-point that goes with it."},
    {"week-energy-code", note, the_week, "The energy code wants heating off when nobody draws",
     "The hygiene guideline asks for hot pipes at all times; the two documents do not agree.",
     "Let the responsible person decide, and write down the decision."},
    {"week-gap", note, the_week, "A cheaper week may exist",
     "The search stopped with a gap between its week and the bound that no week can beat.",
     "Nothing: the settings keep what is asked. Allow more time if the gap matters."},
    {"week-settings-differ", note, the_week,
     "The job's own week is not the cheapest that keeps what is asked",
     "The periods and set-points of job.toml cost more, or miss what is asked.",
     "Take over the settings found: `firstdraw week JOB --toml` prints them."},
    // Logs: raised by room watch
    {"watch-cold", fix, logs, "Logged pipe was colder than it should be for long",
     "Colder than asked for hours on end is the time in which bacteria multiply and the guideline is broken.",
     "Find the cause (`firstdraw diagnose`), and do what the water management plan says of cold water."},
    {"watch-hot", fix, logs, "Logged water was hotter than its limit",
     "Water above the limit can scald within seconds.",
     "Check mixing valves, the contactor and the set-point at once."},
    {"watch-gap", note, logs, "Readings are missing from the log",
     "A month is evidence only for the time that was logged.",
     "Find out what stopped the logger or its sensor."},
    {"watch-stuck", fix, logs, "A logged reading does not move",
     "A working sensor moves a little all the time; one that is stuck hides whatever happens.",
     "Check sensor, cable and logger."},
    {"watch-schedule", fix, logs, "The controller does not do what was programmed",
     "A clock that is off, or other periods than the settings sheet's, heat at the wrong hours.",
     "Set the clock and key in the periods of the settings sheet."},
    {"watch-insulation", fix, logs, "The log shows more heat loss than designed",
     "Wet, missing or pressed insulation makes the pipe colder than planned and costs energy.",
     "Look at the insulation of the run, and at how cold its air really is."},
    {"watch-cable", fix, logs, "The log shows less cable output than designed",
     "Self-regulating cable loses output with age, and a low voltage or a wrong type does the same.",
     "Measure voltage, current and insulation resistance of the circuit."},
    {"watch-change", note, logs, "Something changed in the log",
     "A lasting change of temperature, on time or cooling has a cause: a repair, a setting, a fault.",
     "Find out what happened then, and write it into the records."},
    // Field tests
    {"test-insulation", stop, field_tests, "Insulation resistance is too low",
     "Current can leak through moisture or a hurt jacket: a shock, a fire, or a device that trips.",
     "Do not energise; find the bad place branch by branch, repair it and test again."},
    {"test-earth", stop, field_tests, "The path to earth is not good",
     "Without it a fault neither trips the protection nor keeps metal at earth.",
     "Follow the braid from connection to connection and test again before energising."},
    {"test-continuity", stop, field_tests, "A bus wire is open",
     "Beyond the break nothing heats, and a break can arc.",
     "Find the break with capacitance from both ends and make the joint again."},
    {"test-ground-fault", stop, field_tests, "Ground-fault protection does not work as it must",
     "It is what ends a fault in the cable before it hurts or burns.",
     "Do not leave the circuit energised; have the device replaced and test the new one."},
    {"test-leakage", fix, field_tests, "Too much leaks to earth",
     "Standing leakage uses up the device's setting: it trips without a fault, or hides one.",
     "Measure insulation resistance branch by branch, or divide the circuit."},
    {"test-voltage", stop, field_tests, "Wrong voltage at the cable",
     "Too high a voltage overheats the cable, too low a one leaves pipes cold.",
     "Correct the connection before it is used; a licensed electrician works on it."},
    {"test-length", fix, field_tests, "Installed length is not the planned one",
     "Pipes without live cable cool down; more cable than planned asks for another breaker.",
     "Find the cut, the break or the cable that nobody drew, and correct the drawing."},
    {"test-sensor", fix, field_tests, "The sensor does not tell the pipe's temperature",
     "The controller holds what the sensor says: too hot scalds, too cold lets Legionella multiply.",
     "Mount it on the pipe opposite the cable and measure at its own terminals."},
    {"test-current", fix, field_tests, "The current is not the expected one",
     "Too little: part of the cable does not heat. Too much: another cable, voltage or colder pipe.",
     "Note pipe temperature, voltage and minutes since switching on, read again, then measure the length."},
    {"test-temperature", fix, field_tests, "A pipe is not as warm as expected",
     "Cold pipe lets Legionella multiply, hot pipe can scald and ages cable and pipe.",
     "Look at insulation, cable and controller of this run, and tell who answers for the water."},
    {"test-tap", stop, field_tests, "Water at a tap is outside its limits",
     "Too hot scalds within seconds, too cold lets Legionella multiply.",
     "Put the tap out of use until it is right, and tell who answers for the water."},
    {"test-control", fix, field_tests, "The controller or what it switches is not as it should be",
     "A wrong setting or a stuck contactor heats without end or not at all.",
     "Set it by the settings sheet; have stuck contactors replaced."},
    {"test-cable", stop, field_tests, "Another cable is fitted than planned",
     "Output, currents, breaker and settings belong to the cable that was planned.",
     "Replace it, or plan again with the cable that is fitted."},
    {"test-doubt", note, field_tests, "A reading can neither pass nor fail",
     "What instrument and model leave open reaches over the limit, or something was not noted.",
     "Do what the verdict says and read again."},
    {"trend-insulation-resistance", fix, field_tests, "Insulation resistance falls from test to test",
     "Each value may pass, but moisture that gets in goes on getting in.",
     "Find it while it is small: end seals, splices and whatever was worked on since."},
    {"trend-current", fix, field_tests, "The current falls at like temperature",
     "The cable ages or part of it has gone dead: one day it will not hold the pipe.",
     "Measure the length by capacitance; watch the coldest runs."},
    {"trend-length", fix, field_tests, "The installed length has changed",
     "Cable does not change its length: it was cut, broken or added to.",
     "Find out what was done since the earlier test and correct the drawing."},
};

std::string_view explain(Severity severity) {
  switch (severity) {
    case stop:
      return "do not build or energise before it is resolved";
    case fix:
      return "change it, or accept it with a reason and a name";
    case note:
      return "something to know";
  }
  return {};
}

}  // namespace

std::span<const CatalogueEntry> finding_catalogue() { return entries; }

const CatalogueEntry& catalogue_entry(std::string_view id) {
  static const auto by_id = [] {
    std::map<std::string_view, const CatalogueEntry*> index;
    for (const CatalogueEntry& entry : entries) index.emplace(entry.id, &entry);
    return index;
  }();
  const auto found = by_id.find(id);
  if (found == by_id.end()) throw std::logic_error(fmt::format("finding \"{}\" is not in the catalogue", id));
  return *found->second;
}

const std::vector<FindingKind>& finding_kinds() {
  static const auto kinds = [] {
    std::vector<FindingKind> all;
    for (const CatalogueEntry& entry : entries)
      all.push_back({std::string(entry.id), entry.severity, std::string(entry.title)});
    return all;
  }();
  return kinds;
}

std::string catalogue_markdown() {
  std::string text =
      "# Findings\n\n"
      "What the checks of Firstdraw can say, under the stable id that `firstdraw check`, `firstdraw plan` "
      "and the\n"
      "hand-over pack print. A finding names its place, the numbers and the rule it rests on. It informs; "
      "local codes,\n"
      "the authority having jurisdiction, the cable maker's instructions and the licensed person in charge "
      "decide.\n\n";
  for (const Severity severity : {stop, fix, note})
    text += fmt::format("- **{}**: {}.\n", to_string(severity), explain(severity));
  text +=
      "\nTo accept a finding, add to `job.toml`:\n\n"
      "```toml\n[[accept]]\nfinding = \"run-very-long\"\nplace = \"R12\"   # or \"*\" for everywhere\n"
      "reason = \"measured twice\"\nname = \"Your name\"\ndate = \"2026-05-04\"\n```\n\n"
      "It then shows as accepted wherever findings are shown.\n";
  std::string_view subject;
  for (const CatalogueEntry& entry : entries) {
    if (entry.subject != subject) text += fmt::format("\n## {}\n", entry.subject);
    subject = entry.subject;
    text += fmt::format("\n### `{}`: {}\n\n{}. {}\n*What to do:* {}\n", entry.id, entry.title,
                        to_string(entry.severity), entry.why, entry.fix);
  }
  text += "\nThis page is made from `src/plan/finding_catalogue.cpp`; a test compares the two.\n";
  return text;
}

}  // namespace firstdraw::plan
