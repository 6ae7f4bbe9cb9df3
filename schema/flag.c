/* flag.c - the table of flags; see flag.h. */
#include "schema/flag.h"

#include <string.h>

static const struct flag_row rows[FLAG_RULE_COUNT] = {
    [FLAG_RUN_QUARANTINED] = {"run-quarantined", FLAG_REFUSED,
                              "The run's files could not be read as declared.",
                              "No number of this run exists; all other runs are complete.",
                              "Correct the place named in the detail and run the batch again."},
    [FLAG_ZERO_AFTER_MISSING] = {"zero-after-missing", FLAG_FLAGGED,
                                 "There is a wind-off zero on one side of the run only.",
                                 "It is used alone, so drift during the run is inside "
                                 "the coefficients and cannot be told.",
                                 "Record zeros before and after the run, or name them in the run "
                                 "sheet."},
    [FLAG_LOADS_PARTIAL] = {"loads-partial", FLAG_INFO, "The run measures part of the loads only.",
                            "What it does not measure is not given, nor anything that would enter; "
                            "the rest stands.",
                            "Map the missing loads, if the log has them."},
    [FLAG_ZERO_MISSING] = {"zero-missing", FLAG_REFUSED, "No wind-off zero belongs to the run.",
                           "Loads cannot be told from offsets: no coefficient is given.",
                           "Name a zero in the run sheet's zero column, or declare zero: none."},
    [FLAG_ZERO_DRIFT] = {"zero-drift", FLAG_FLAGGED,
                         "The zero moved during the run by more than its share of the smallest "
                         "delta worth having.",
                         "Drift linear in time is taken out; what is not linear stays inside the "
                         "coefficients.",
                         "Look at the balance's temperature and cables; repeat the run if it "
                         "decides something."},
    [FLAG_ZERO_EXTRAPOLATED] = {"zero-extrapolated", FLAG_FLAGGED,
                                "A point lies outside the time between its two zeros.",
                                "The drift is carried on along the line through both zeros, where "
                                "nothing was measured.",
                                "Name zeros on both sides of the run, or leave the cell to the "
                                "rule."},
    [FLAG_ZERO_FIRST_POINT] = {"zero-first-point", FLAG_INFO,
                               "A zero run holds several points and none of them is named.",
                               "Its first point is the zero; the others are not used.",
                               "Write RUN/POINT in the run sheet's zero column if another one is "
                               "meant."},
    [FLAG_ZERO_WITH_WIND] =
        {"zero-with-wind", FLAG_FLAGGED, "A zero was taken while the wind was on.",
         "The loads of that wind are taken off as if they were offset: about the share of every "
         "coefficient that the zero's q has of the run's is missing.",
         "Repeat the zero in still air, or name another one in the run sheet's zero column."},
    [FLAG_TARE_NOT_AT_ATTITUDE] = {"tare-not-at-attitude", FLAG_REFUSED,
                                   "No weight tare was recorded at the attitude of the point.",
                                   "The weight's part of the loads is not known: no coefficient is "
                                   "given.",
                                   "Record a weight tare at this attitude, or widen tare_tolerance "
                                   "if the balance hardly tilts."},
    [FLAG_ZERO_DEPENDS_ON_YAW] =
        {"zero-depends-on-yaw", FLAG_FLAGGED,
         "Wind-off readings that differ in their yaw alone are not the same.",
         "Where no weight tare takes it off, side force and moments at one yaw hold the reading of "
         "another.",
         "Take a weight tare at every yaw; look whether the balance or the turntable is level."},
    [FLAG_SCALES_WEIGHT] =
        {"scales-weight", FLAG_FLAGGED,
         "The weight that the balance reads is not that of the scales.",
         "Forces may be wrong by the same share, or the car on the balance is not the one that was "
         "weighed.",
         "Check the balance's units and calibration, fuel and ballast, what stands beside the "
         "balance, and gravity in campaign.yaml."},
    [FLAG_BELT_TARE_MISSING] =
        {"belt-tare-missing", FLAG_REFUSED,
         "No belt tare was recorded at the belt's speed and the attitude of the point.",
         "What the belt alone does to the loads is not known: no coefficient is given.",
         "Record a belt tare there, wind off, or widen belt_tolerance and tare_tolerance."},
    [FLAG_BELT_WHEEL_LOAD] =
        {"belt-wheel-load", FLAG_INFO,
         "The belt tare was taken without the downforce that the wheels carry in the wind.",
         "Rolling resistance rises with the load on the wheels, so what is taken off is too "
         "little: "
         "drag stays too high, the more so the more downforce the wheels carry.",
         "Compare configurations of like downforce, or measure the wheels' drag by cells."},
    [FLAG_OUTSIDE_TABLE] =
        {"outside-table", FLAG_REFUSED,
         "The attitude of the point is outside a table of supports or interference.",
         "What the table would take off is not known there: no coefficient is given.",
         "Measure the table to this attitude, or take it out of campaign.yaml if the part cancels "
         "in "
         "the deltas that are wanted."},
    [FLAG_UNDECLARED_CHANGE] =
        {"undeclared-change", FLAG_FLAGGED,
         "Undeclared change? The zero or the weight stepped between two runs of one configuration.",
         "If the car was changed, the run is of another configuration than it says; if the balance "
         "or its amplifier was, only the zeros are new and the deltas stand.",
         "Ask what was done between the runs: parts, ballast, fuel, hoses, an amplifier set to "
         "zero. "
         "Write the configuration or the mounting into the run sheet."},
    [FLAG_WEIGHT_NOT_TOLD] =
        {"weight-not-told", FLAG_INFO,
         "The weight tare's sweep does not tell the weight, or where its centre is.",
         "Loads are tared all the same, at the attitudes of the sweep; the weight can't be held "
         "against the scales, nor its centre against the car.",
         "Sweep the weight tare over more pitch and roll, if they are wanted."},
    [FLAG_TARE_RESIDUAL] =
        {"tare-residual", FLAG_INFO, "The wind-off loads are not those of a rigid weight.",
         "What it leaves is interpolated between the sweep's points and no better known than that "
         "between them.",
         "Look for wheels, links and hoses that carry weight; add tare points where it matters."},
    [FLAG_CALIBRATION_EXPIRED] =
        {"calibration-expired", FLAG_REFUSED,
         "The balance's calibration was not valid when the run was made.",
         "Nobody vouches for its loads: no coefficient is given.",
         "Name the calibration that was valid then, or have its valid_until extended by whoever "
         "answers for the balance."},
    [FLAG_LOAD_BOX] = {"load-box", FLAG_FLAGGED, "A load is beyond what the balance is rated for.",
                       "Nobody vouches for the number, nor for the balance.",
                       "Lower the speed, or use a balance rated for this load."},
    [FLAG_Q_UNSTEADY] = {"q-unsteady", FLAG_FLAGGED,
                         "The dynamic pressure moved during the point by more than the limit.",
                         "Means of load and of dynamic pressure may not belong together.",
                         "Wait for the wind to settle and repeat the point."},
    [FLAG_SAMPLES_MISSING] = {"samples-missing", FLAG_FLAGGED,
                              "Samples of a channel are missing within the point.",
                              "The mean rests on the samples that are there.",
                              "Check the channel's logger and cable."},
    [FLAG_NOT_ESTIMABLE] = {"not-estimable", FLAG_FLAGGED,
                            "The record is too short to tell how uncertain its mean is.",
                            "The value stands; the standard deviation itself is given as the "
                            "uncertainty, or none where there is no standard deviation.",
                            "Record longer points, or log the samples instead of their mean."},
    [FLAG_AIR_OUT_OF_RANGE] = {"air-out-of-range", FLAG_FLAGGED,
                               "The air's pressure, temperature or humidity is outside the range "
                               "of the density formula (CIPM-2007).",
                               "Density is extrapolated, with more uncertainty than the formula's "
                               "own, or not given where it is not air's at all.",
                               "Check the barometer, the thermometer and their units."},
    [FLAG_NO_FREESTREAM] = {"no-freestream", FLAG_REFUSED,
                            "The wind's state cannot be made from the channels of the point.",
                            "Without dynamic pressure there is no coefficient but those that "
                            "the facility made itself.",
                            "Check the pressure and temperature channels named in the detail."},
    [FLAG_PRESSURES_DISAGREE] = {"pressures-disagree", FLAG_FLAGGED,
                                 "Total pressure minus static pressure is not the measured "
                                 "difference of both.",
                                 "The measured difference is used; one of the three is wrong, and "
                                 "q may be.",
                                 "Check the three transducers, their zeros and their units."},
    [FLAG_BELT_SPEED] =
        {"belt-speed", FLAG_FLAGGED, "The belt does not run as fast as the air.",
         "The boundary layer under the car is not the road's: most of all underfloor "
         "and front wing are of another flow, and wheels turn at another speed.",
         "Set the belt to the air's speed and repeat the point; check both speeds' "
         "units."},
    [FLAG_AXLE_SUM] = {"axle-sum", FLAG_FLAGGED,
                       "A downforce is not the sum of the downforces of its axles or wheels.",
                       "All are taken as given: axles or wheels contradict the total.",
                       "Check signs and columns of the channel map, then ask the facility."},
    [FLAG_BLOCKAGE_EVIDENCE] = {"blockage-evidence", FLAG_FLAGGED,
                                "The blockage is larger than the evidence for this correction "
                                "reaches.",
                                "The number is given, but no experiment stands behind the "
                                "correction at this size.",
                                "Compare within this facility only, or use another family."},
    [FLAG_BLOCKAGE_REFUSED] = {"blockage-refused", FLAG_REFUSED,
                               "The blockage correction has no answer for this point.",
                               "No corrected coefficient is given.",
                               "See the detail: complete the geometry in campaign.yaml, or choose "
                               "another family."},
    [FLAG_CORRECTIONS_UNKNOWN] = {"corrections-unknown", FLAG_FLAGGED,
                                  "Nobody declared whether the log's numbers already hold wall "
                                  "corrections.",
                                  "Deltas within this facility stand; levels must not be compared "
                                  "with another facility's.",
                                  "Ask the facility and set already_corrected to yes or no."},
    [FLAG_OFF_TARGET] = {"off-target", FLAG_FAILED,
                         "The attained attitude is farther from its target than the cap.",
                         "The point keeps its attained value and is not compared at the target.",
                         "Repeat the point closer to its target."},
    [FLAG_TARGET_REFUSED] = {"target-refused", FLAG_REFUSED,
                             "The configuration's own points do not bear a slope about the target.",
                             "No value at the target is given.",
                             "Add points about this attitude, or set the car closer to it."},
    [FLAG_NO_TARGET] = {"no-target", FLAG_INFO,
                        "The point belongs to none of the declared targets.",
                        "It is reduced and listed, and takes no part in comparisons.",
                        "Declare a target there if the attitude matters."},
    [FLAG_TAP_IMPOSSIBLE] = {"tap-impossible", FLAG_FAILED,
                             "The pressure coefficient of a tap is beyond what air can do.",
                             "The tap is drawn as dead and left out of means and maps.",
                             "Check the tube, the scanner port and the reference."},
    [FLAG_TAP_FROZEN] = {"tap-frozen", FLAG_FAILED, "A tap gives the same value without end.",
                         "The tap is drawn as dead and left out of means and maps.",
                         "Check the scanner port; a blocked tube also looks like this."},
    [FLAG_TAP_ZERO_MISSING] = {"tap-zero-missing", FLAG_INFO,
                               "The run's zeros hold no reading of its taps.",
                               "Taps are taken as zeroed by the scanner itself.",
                               "Log the taps in the zeros too, if the scanner is not zeroed "
                               "before each run."},
    [FLAG_TAP_ZERO_SILENT] = {"tap-zero-silent", FLAG_FAILED,
                              "The run's zeros log the tap but hold no value of it.",
                              "Its offset is not known: the tap is drawn as dead and left out of "
                              "means and maps.",
                              "Check the scanner port in the zeros, and the static pressure there "
                              "if taps are absolute."},
    [FLAG_TAP_ZERO_HELD] = {"tap-zero-held", FLAG_FLAGGED,
                            "Only one of the run's two zeros holds a value of a tap.",
                            "That one is held constant, so the tap's drift is inside its pressure.",
                            "Check the scanner in the other zero."},
    [FLAG_POINT_IN_ONE_LOG] = {"point-in-one-log", FLAG_FLAGGED,
                               "The point is in one of the run's logs but not in the other.",
                               "What the other log holds is missing for this point.",
                               "Check the point labels of both logs."},
    [FLAG_BALANCE_UNDEFINED] = {"balance-undefined", FLAG_REFUSED,
                                "The downforce is too close to zero for a share of it to mean "
                                "anything.",
                                "Balance or efficiency is not given for this point.",
                                "Read the axle coefficients instead."},
    [FLAG_UNBRACKETED] = {"unbracketed", FLAG_REFUSED,
                          "The configuration has no baseline both before and after it.",
                          "Drift cannot be told from the change: no delta is given, or, with a "
                          "baseline measured once, a plain difference.",
                          "Return to the baseline after the configuration."},
    [FLAG_NOT_REFITTED] = {"not-refitted", FLAG_FLAGGED, "The configuration was mounted only once.",
                           "Its delta rests on one fitting; the noise comes from the rest of the "
                           "family.",
                           "Refit it and run it again if it decides something."},
    [FLAG_ATTITUDE_NOT_MEASURED] =
        {"attitude-not-measured", FLAG_FLAGGED,
         "A coordinate that the targets name was not logged, or a weighted "
         "target was not measured.",
         "An unlogged coordinate is taken as set; a run without a "
         "weighted target has no weighted value.",
         "Log the coordinate, or measure the target, or take it out of the "
         "targets."},
    [FLAG_DUPLICATE_LOG] = {"duplicate-log", FLAG_FLAGGED,
                            "Two runs were made from byte-for-byte the same log.",
                            "They are one measurement and must not count as a repeat.",
                            "Correct the log's name in the run sheet."},
    [FLAG_RUNS_OVERLAP] =
        {"runs-overlap", FLAG_FLAGGED,
         "Another run of the facility begins before the points of this one end.",
         "Zeros and baselines are found by time: those of the run may be the wrong ones.",
         "Check the unit of the log's time, and the starts of both runs in the run sheet."},
    [FLAG_LOG_UNTERMINATED] =
        {"log-unterminated", FLAG_FLAGGED,
         "The last row of a log has no line feed: the file may be cut there.",
         "A sample there is left out. A row that is a whole point, or the only "
         "row, is used as it stands and may have lost digits.",
         "Copy the log again if the logger was still writing; end a log kept "
         "by hand with a line feed."},
    [FLAG_TIME_MISSING] = {"time-missing", FLAG_FLAGGED, "The logs of the run tell no time.",
                           "Every point has the run's start: zero drift and the order of points "
                           "within the run cannot be told.",
                           "Map a time, a clock or the rate of the log, if it has one."},
    [FLAG_SENTINEL_SUSPECTED] =
        {"sentinel-suspected", FLAG_FLAGGED,
         "A column repeats a number that loggers write for 'no value'.",
         "It is taken as measured, so it is inside the means.",
         "If it means 'no value', name it under sentinels in the channel map."},
    [FLAG_TIME_GAPS] =
        {"time-gaps", FLAG_INFO, "Within its points a log repeats a time or leaves some out.",
         "The samples that are there are used; the effective number of samples "
         "takes them as evenly spaced.",
         "Check the logger if there are many, and take doubled rows out, which count "
         "twice; nothing is to be done about a few."},
    [FLAG_ROWS_OUTSIDE_POINTS] =
        {"rows-outside-points", FLAG_INFO,
         "Rows of a log belong to no point: they were not recorded, or the attitude was on its "
         "way.",
         "They enter no number; only their times and the number of their cells were looked at.",
         "Nothing, if that many are meant; else look at the recording flag, or at sweep in the "
         "channel map."},
    [FLAG_IMPLAUSIBLE] = {"implausible", FLAG_FLAGGED,
                          "A value is outside what cars and tunnels give.",
                          "The number stands as computed; if a unit, sign or scale is wrong, so is "
                          "every result of the run.",
                          "Answer the question in the channel map, the balance or the car."},
    [FLAG_STUCK] =
        {"stuck", FLAG_FLAGGED, "A channel repeats one value longer than chance allows.",
         "The mean holds no measurement of that time. A point that needs the channel keeps "
         "its number and is not compared where the run is 2 % of its samples or more.",
         "Check the channel's logger and cable, then repeat the points named."},
    [FLAG_CLIPPED] =
        {"clipped", FLAG_FLAGGED, "Samples of a channel pile up at the end of its range.",
         "The mean is pulled to the middle of the range. A point that needs the channel "
         "keeps its number and is not compared.",
         "Lower the gain or the load, check the channel's calibration, and repeat the "
         "points named."},
    [FLAG_SPIKES] = {"spikes", FLAG_FLAGGED,
                     "Samples of a channel stand out from their neighbours.",
                     "They are inside the mean; the mean without them is in the detail.",
                     "Check screens, plugs and slip rings; repeat the points if the difference "
                     "matters."},
    [FLAG_TREND] =
        {"trend", FLAG_FLAGGED,
         "A result moved within the point by more than its share of the smallest delta worth "
         "having.",
         "The mean is of a state that was not steady: it depends on when it was taken.",
         "Wait longer before the points named, or measure longer, and repeat them."},
    [FLAG_Q_TREND] =
        {"q-trend", FLAG_FLAGGED, "The dynamic pressure rose or fell within the point.",
         "Loads divided by its mean carry the part of the trend that they do not share.",
         "Wait for the wind to settle and repeat the points named."},
    [FLAG_NOISE_UNUSUAL] =
        {"noise-unusual", FLAG_FLAGGED,
         "A channel is much noisier or much quieter than it usually is.",
         "The number stands; if the noise is the instrument's, its uncertainty is "
         "not what it says.",
         "Look at the record of the channel: a cable, a filter, a gain, or a flow "
         "that has changed."},
    [FLAG_CONSTANT] = {"constant", FLAG_FLAGGED,
                       "A channel does not move in this run and does in the others.",
                       "Its values are no measurement. Points that need the channel keep their "
                       "numbers and are not compared where other runs show that it moves; else "
                       "they are compared, and in doubt.",
                       "Check the channel's logger and cable, then repeat the run."},
    [FLAG_SLOW_RESPONSE] = {"slow-response", FLAG_FLAGGED,
                            "A channel follows more slowly than it usually does.",
                            "Means of steady points stand; a point taken before it has settled is "
                            "wrong.",
                            "Check filters, and tubes for kinks and leaks; wait longer before "
                            "points."},
    [FLAG_LATE_CHANNEL] =
        {"late-channel", FLAG_FLAGGED, "A channel follows the wind late, or ahead of it.",
         "Means of steady points stand; what moves within a point does not belong "
         "together.",
         "Check the clocks of the loggers and the lengths of tubes and filters."},
    [FLAG_UNIT_SUSPECTED] =
        {"unit-suspected", FLAG_FLAGGED,
         "A channel is away from its other runs by a factor between two units.",
         "The values stand as declared; if the unit is wrong, so is every result "
         "of the run.",
         "Compare the log's unit and sign with the channel map's, then answer "
         "there."},
    [FLAG_CHANNELS_SWAPPED] =
        {"channels-swapped", FLAG_FLAGGED,
         "Two channels each look like the other's runs and not like their own.",
         "The values stand as mapped; if two plugs or columns are exchanged, so "
         "are their results.",
         "Check plugs and columns; exchange the two in the channel map of this "
         "run if so."},
    [FLAG_LEVEL_UNUSUAL] = {"level-unusual", FLAG_FLAGGED,
                            "A channel is far from where its other runs are.",
                            "The values stand as logged; nothing tells whether they are right.",
                            "Was that meant? If not, check the instrument, its zero and its unit."},
    [FLAG_RUN_DIFFERS] = {"run-differs", FLAG_INFO,
                          "Most channels of the run are away from the other runs.",
                          "Levels and noise of its channels are not judged one by one.",
                          "Nothing, if it was meant: another speed, another car."},
    [FLAG_BALANCE_TEMPERATURE] =
        {"balance-temperature", FLAG_FLAGGED,
         "The balance's ends are not at one temperature, or not at that of "
         "the zero.",
         "Its zero and its sensitivity move with temperature: a drift that "
         "is not linear stays inside the loads.",
         "Let the balance settle, take a zero, and repeat the run."},
    [FLAG_SCANNER_TEMPERATURE] = {"scanner-temperature", FLAG_FLAGGED,
                                  "The pressure scanner's temperature has moved since the zero.",
                                  "Its offsets move with temperature and are inside the pressures.",
                                  "Zero the scanner again and repeat the run."},
    [FLAG_POINT_EXCLUDED] = {"point-excluded", FLAG_INFO, "Somebody decided to leave this out.",
                             "Its numbers are kept; it is not compared and no slope rests on it.",
                             "Read what that changes in the section on what was left out."},
    [FLAG_POINT_RESTORED] = {"point-restored", FLAG_INFO,
                             "Somebody decided to take this in although a rule failed it.",
                             "It is compared, and slopes rest on it, in spite of the failure.",
                             "Read what that changes in the section on what was left out."},
    [FLAG_DECISION_WITHOUT_EFFECT] =
        {"decision-without-effect", FLAG_FLAGGED, "A decision could not do what it says.",
         "All numbers are as they would be without it.",
         "Correct or take out its row in decisions.csv; the detail says why."},
    [FLAG_VERDICT_RESTS_ON_EXCLUSION] =
        {"verdict-rests-on-exclusion", FLAG_FLAGGED,
         "The verdict is another one when nothing is left out.",
         "The verdict as it stands rests on those who decided and on the rules named in the "
         "detail, "
         "not on the measurements alone.",
         "Look at the points that were left out or taken in, and repeat them if this decides "
         "something."},
    [FLAG_HEIGHT_SENSOR_SILENT] =
        {"height-sensor-silent", FLAG_FLAGGED, "A height sensor has no samples at the point.",
         "The other sensors are used; a wrong one among them is harder to see.",
         "Check the sensor, its cable and its column in the channel map."},
    [FLAG_RIDE_HEIGHTS_MISSING] =
        {"ride-heights-missing", FLAG_FAILED,
         "The height sensors that have samples do not fix the ride heights.",
         "The attitude is not known, so the point is kept out of comparisons.",
         "Check the sensors; or write ride_height: from log, if the log holds ride heights."},
    [FLAG_HEIGHTS_DISAGREE] =
        {"heights-disagree", FLAG_FLAGGED,
         "Heights of the car that were measured twice do not agree.",
         "One of them is wrong, and with it may be the attitude that the point is taken to have.",
         "Check the sensor named in the detail: its place, its offset, and what it looks at."},
    [FLAG_CONTENTS_DIFFER] =
        {"contents-differ", FLAG_REFUSED,
         "The loads of a run contain other parts of the car than those they would be compared "
         "with.",
         "A delta would be the part that is missing, so the run takes no part in comparisons.",
         "Compare runs of one content: the same balance and cells, or another entry for these."},
    [FLAG_CELLS_WITHOUT_TARE] =
        {"cells-without-tare", FLAG_INFO,
         "The weight tare does not log all of the cells that are added.",
         "Of those cells only the zero is taken off: weight that moves between wheels with the "
         "attitude stays in.",
         "Log the cells in the weight tare too."},
    [FLAG_TRACK_MISSING] =
        {"track-missing", FLAG_FLAGGED,
         "Cells are added whose distance from the centreline is not declared.",
         "The moment that they make about the centreline is not given; all else stands.",
         "Give the car's track_front and track_rear."},
    [FLAG_BALANCE_NO_LOADS] =
        {"balance-no-loads", FLAG_REFUSED,
         "The balance's calibration gives no loads for the outputs of the point.",
         "Without loads there is no coefficient.",
         "Check the outputs, their unit and their zero, and that the calibration is this "
         "balance's."},
    [FLAG_NEAR_STALL] =
        {"near-stall", FLAG_FAILED,
         "A stall lies near the target: the downforce turns over or steps within the carry.",
         "The point keeps its attained value and is not compared at the target.",
         "Measure at the target; do not carry across a stall."},
    [FLAG_BEYOND_TEMPERATURE] =
        {"beyond-temperature", FLAG_FLAGGED,
         "The balance is at a temperature that it was not calibrated at.",
         "What its temperature does to zero and sensitivity is extrapolated.",
         "Calibrate it at such a temperature, or let it come to one that it was calibrated at."},
    [FLAG_BEYOND_CALIBRATION] =
        {"beyond-calibration", FLAG_FLAGGED,
         "A load is beyond those that the balance was calibrated with.",
         "The calibration is extrapolated there; its accuracy is not known.",
         "Have the balance calibrated to this load, or lower the speed."},
    [FLAG_REYNOLDS_UNMEASURED] =
        {"reynolds-unmeasured", FLAG_FAILED,
         "The Reynolds number of the point, or the reference, lies outside the speed sweep.",
         "The point is left at its own Reynolds number and is not compared: a trend is no "
         "measurement.",
         "Measure the sweep to this speed, or choose a reference inside it."},
    [FLAG_YAW_OFFSET] =
        {"yaw-offset", FLAG_INFO, "The car's side force is zero at another yaw than 0.",
         "Nothing is corrected for it: the flow's turn, the turntable's zero and the car's own "
         "asymmetry look alike.",
         "Measure a reference body and its mirror image, and declare flow_angularity."},
    [FLAG_STATED_UNCERTAINTY_TOO_SMALL] =
        {"stated-uncertainty-too-small", FLAG_FLAGGED,
         "Repeats agree less often than the uncertainty that the log states allows.",
         "What is stated does not hold all that changes from series to series, so that an interval "
         "made of it is too narrow.",
         "Rest intervals on repeats, mounted again, and ask what the stated uncertainty contains."},
    [FLAG_STATED_UNCERTAINTY_TOO_LARGE] =
        {"stated-uncertainty-too-large", FLAG_INFO,
         "Repeats agree more often than the uncertainty that the log states needs.",
         "What is stated may hold errors that all series share; of differences it says too much.",
         "Ask what the stated uncertainty contains before it is used for a delta."},
    [FLAG_SERIES_SHIFT] = {"series-shift", FLAG_FLAGGED,
                           "A series of repeats is shifted as a whole against the one before.",
                           "Points of one series share the shift: it does not average down over "
                           "them.",
                           "Find what was changed between the series, and take more series rather "
                           "than more points."},
    [FLAG_STANDARD_ERROR] =
        {"standard-error", FLAG_FLAGGED,
         "A point is more uncertain than half the smallest delta worth having.",
         "The number stands; one such point can't tell a delta that matters from noise.",
         "Record the point longer, or find what moves."},
    [FLAG_CORRECTION_LARGE] =
        {"correction-large", FLAG_FLAGGED,
         "One correction is more than a fifth of the coefficient that it corrects.",
         "The number stands; an error of the correction is a large part of it.",
         "Check the geometry and the gradient that the correction is made of; compare within this "
         "facility only."},
    [FLAG_BRACKET_WIDE] =
        {"bracket-wide", FLAG_FLAGGED,
         "The baseline moved between the returns around a mounting by more than the smallest "
         "delta worth having.",
         "What of it is linear in time is taken out; what is not stays inside the delta.",
         "Return to the baseline more often, or find what drifts."},
    [FLAG_FEW_DEGREES] =
        {"few-degrees", FLAG_FLAGGED,
         "The interval of a delta rests on less than three degrees of freedom.",
         "It is true on average, but by luck of few repeats it may be far too wide or too narrow.",
         "Mount the configuration, or return to the baseline, once more."},
    [FLAG_ESTIMATES_DISAGREE] =
        {"estimates-disagree", FLAG_FLAGGED,
         "The whole night's model and the local bracket give different deltas.",
         "The headline's interval stands; what drifted, or one of the returns, is not what one of "
         "the two takes it for.",
         "Look at the baseline's returns around the configuration, and repeat it if it decides "
         "something."},
    [FLAG_NOISE_BORROWED] =
        {"noise-borrowed", FLAG_FLAGGED,
         "Too little was repeated: the noise of the interval is the season's.",
         "The interval is true if this entry repeats as the facility usually does, which nothing "
         "in "
         "it shows.",
         "Return to the baseline more often, or refit the configuration, to measure it."},
    [FLAG_NOISE_UNLIKE_SEASON] =
        {"noise-unlike-season", FLAG_FLAGGED,
         "The facility does not repeat in this entry as it did in earlier ones.",
         "Noise that is borrowed from the season is not this entry's: where it scatters more, "
         "intervals that borrow are too narrow, where less, too wide.",
         "Look for what is loose, warm or leaking; judge by the entry's own repeats, of which more "
         "mountings give more."},
    [FLAG_BUDGET_UNLIKE_SCATTER] =
        {"budget-unlike-scatter", FLAG_FLAGGED,
         "Mountings scatter by more than twice, or less than half, of what the declared "
         "uncertainties say.",
         "Intervals rest on the scatter and stand; the budget's figures do not describe this "
         "night.",
         "Make the declared uncertainties say what mountings show."},
};

static const char *const state_names[] = {
    [FLAG_INFO] = "info",
    [FLAG_FLAGGED] = "flagged",
    [FLAG_FAILED] = "failed",
    [FLAG_REFUSED] = "refused",
};

const struct flag_row *flag_row(enum flag_rule rule)
{
    return &rows[rule];
}

const char *flag_state_name(enum flag_state state)
{
    return state_names[state];
}

enum flag_rule flag_rule_from_code(const char *code)
{
    for (unsigned i = 0; code != NULL && i < FLAG_RULE_COUNT; i++)
        if (strcmp(rows[i].code, code) == 0)
            return (enum flag_rule)i;
    return FLAG_RULE_COUNT;
}
