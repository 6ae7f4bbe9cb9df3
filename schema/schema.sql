-- schema.sql - the season database. The second thing a newcomer reads.
--
-- Tables hold what ingest and reduce wrote; the views at the end are what people query from the
-- sqlite3 shell or a notebook. Everything is SI; column names carry the unit unless dimensionless.
-- Downforce is positive everywhere. `data_dictionary` explains every column of every view.

-- ---- what the user declared -------------------------------------------------------------------

-- The campaign as read, one row a value in force, for pages and for `explain`.
CREATE TABLE setting (
    section TEXT NOT NULL,          -- "car", "facility saltmarsh", "attitudes" ...
    name    TEXT NOT NULL,
    value   TEXT NOT NULL,          -- as text, SI number or word
    unit    TEXT NOT NULL,          -- SI unit, "" for a word
    PRIMARY KEY (section, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE metric (
    metric     TEXT PRIMARY KEY,
    sequence   INTEGER NOT NULL,
    quantity   TEXT NOT NULL,       -- symbol: CL, CD, balance ...
    better     TEXT NOT NULL,       -- higher, lower, toward, undeclared
    toward     REAL,                -- when better = toward
    worthwhile REAL NOT NULL,       -- smallest delta worth having, in the quantity's unit
    is_main    INTEGER NOT NULL     -- 1 for the declared main measure
) STRICT, WITHOUT ROWID;

-- Repeatability known from before the season, as campaign.yaml declares it.
CREATE TABLE repeatability_declared (
    facility TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name, "weighted", or "any"
    level    TEXT NOT NULL,
    standard_deviation REAL NOT NULL,
    degrees_of_freedom REAL NOT NULL,
    source   TEXT NOT NULL,
    PRIMARY KEY (facility, quantity, target, level)
) STRICT, WITHOUT ROWID;

CREATE TABLE target (
    target   TEXT PRIMARY KEY,
    sequence INTEGER NOT NULL,
    front_ride_height_m REAL, rear_ride_height_m REAL,
    yaw_rad REAL, roll_rad REAL, pitch_rad REAL, steer_rad REAL,  -- NULL where not named
    weight   REAL NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE configuration (
    configuration TEXT PRIMARY KEY,
    sequence INTEGER NOT NULL,
    parent   TEXT,                  -- NULL for the baseline of a family
    baseline TEXT NOT NULL,         -- the root of its family, itself for a baseline
    change   TEXT NOT NULL,
    note     TEXT NOT NULL,
    change_time_s REAL              -- to mount it, whatever was there before; NULL: as campaign.yaml says
) STRICT, WITHOUT ROWID;

-- What a package is made of: this configuration is these parts together.
CREATE TABLE configuration_part (
    configuration TEXT NOT NULL REFERENCES configuration ON DELETE CASCADE,
    position INTEGER NOT NULL,      -- 0, 1, ... as written
    part     TEXT NOT NULL,         -- another configuration of the family
    PRIMARY KEY (configuration, position)
) STRICT, WITHOUT ROWID;

-- Photographs and sketches of a configuration, for its proof sheet.
CREATE TABLE configuration_image (
    configuration TEXT NOT NULL REFERENCES configuration ON DELETE CASCADE,
    position INTEGER NOT NULL,      -- 0, 1, ... as written
    file     TEXT NOT NULL,         -- relative to the campaign folder
    PRIMARY KEY (configuration, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE tap (
    tap      TEXT PRIMARY KEY,
    sequence INTEGER NOT NULL,
    column_name TEXT NOT NULL,      -- header text of its column in the log
    x_m REAL NOT NULL, y_m REAL NOT NULL, z_m REAL NOT NULL,
    normal_x REAL NOT NULL, normal_y REAL NOT NULL, normal_z REAL NOT NULL,
    area_m2  REAL,
    surface  TEXT NOT NULL,         -- "floor", "front wing" ...
    tube_length_m REAL
) STRICT, WITHOUT ROWID;

-- Balance calibrations as read from their files, one row a coefficient, in SI per output unit.
CREATE TABLE calibration_file (
    balance  TEXT PRIMARY KEY,
    file     TEXT NOT NULL,         -- relative to the campaign folder
    sha256   TEXT NOT NULL,
    output_unit TEXT NOT NULL,      -- "mV/V" ...
    form     TEXT NOT NULL,         -- direct: loads from outputs; iterative: outputs from loads
    second_order INTEGER NOT NULL,  -- of the direct form: 1 when it has the 21 products
    valid_from_s REAL, valid_until_s REAL, -- seconds since 1970, NULL where the file does not say
    from_natural_zero INTEGER NOT NULL, -- 1: of outputs as logged; 0: of outputs minus the run's zero
    temperature_reference_k REAL,   -- that the terms in dT are from; NULL: none
    temperature_lowest_k REAL, temperature_highest_k REAL -- that the calibration went to
) STRICT, WITHOUT ROWID;

-- What the file says of each load; NULL where it doesn't. residual_sd is a share of rated.
CREATE TABLE calibration_load (
    balance  TEXT NOT NULL REFERENCES calibration_file ON DELETE CASCADE,
    load     TEXT NOT NULL,         -- Fx Fy Fz Mx My Mz
    unit     TEXT NOT NULL,         -- of rated, lowest and highest
    rated    REAL,
    lowest   REAL, highest REAL,    -- loads that the calibration went to
    residual_sd REAL,
    PRIMARY KEY (balance, load)
) STRICT, WITHOUT ROWID;

CREATE TABLE calibration (
    balance  TEXT NOT NULL REFERENCES calibration_file ON DELETE CASCADE,
    load     TEXT NOT NULL,         -- Fx Fy Fz Mx My Mz; of an iterative one the output R1 .. R6
    term     TEXT NOT NULL,         -- R1 .. R6, R1*R1 .. R6*R6; iterative: Fx, |Fx|, Fx*Fx .. ; both dT, dT*dT, R1*dT or Fx*dT ..
    coefficient REAL NOT NULL,
    unit     TEXT NOT NULL,         -- of the coefficient
    PRIMARY KEY (balance, load, term)
) STRICT, WITHOUT ROWID;

CREATE TABLE run (
    run      TEXT PRIMARY KEY,
    sequence INTEGER NOT NULL,      -- order in the run sheet
    facility TEXT NOT NULL,
    entry    TEXT NOT NULL,
    start_text TEXT NOT NULL,       -- as written, with zone
    start_s  REAL NOT NULL,         -- seconds since 1970-01-01T00:00:00Z
    configuration TEXT NOT NULL,    -- "" for zeros and tares without one
    kind     TEXT NOT NULL,         -- zero, weight_tare, belt_tare, wind_on, record_only
    balance  TEXT NOT NULL,         -- "" when loads are ready-made or reduced
    zero     TEXT NOT NULL,         -- as written in the run sheet
    tare     TEXT NOT NULL,
    mounting TEXT NOT NULL,         -- as written; "" = a new one each time the configuration returns
    note     TEXT NOT NULL,
    state    TEXT NOT NULL,         -- ok, quarantined
    reason   TEXT NOT NULL,         -- why quarantined: file:line:column: what; "" otherwise
    sheet_line INTEGER NOT NULL,    -- line in runs.csv
    ingest_key TEXT NOT NULL        -- hash of logs, maps and reading methods
) STRICT, WITHOUT ROWID;

-- The boundary corrections in force at a facility, in words: what each does, and how far it is known to hold.
CREATE TABLE correction_method (
    facility TEXT NOT NULL,
    sequence INTEGER NOT NULL,      -- order of the steps
    step     TEXT NOT NULL,         -- buoyancy, blockage, flow angularity, Reynolds
    method   TEXT NOT NULL,         -- family: "image sum"
    equation TEXT NOT NULL,
    evidence TEXT NOT NULL,         -- range in which it is known to hold
    source   TEXT NOT NULL,
    not_verified TEXT NOT NULL,     -- what could not be read in the source; "" for nothing
    found    TEXT NOT NULL,         -- constants fitted to declared measurements; "" for none
    PRIMARY KEY (facility, sequence)
) STRICT, WITHOUT ROWID;

-- Tables of what supports and neighbours do to the coefficients, long: one row a number. quantity is an
-- axis of the attitude (m, rad), a coefficient, or a load (N, N m; car axes, ground at mid-wheelbase)
-- with the dynamic_pressure (Pa) that it was measured at.
CREATE TABLE support_table (
    facility TEXT NOT NULL,
    kind     TEXT NOT NULL,         -- support tare, interference
    row      INTEGER NOT NULL,
    quantity TEXT NOT NULL,
    value    REAL NOT NULL,
    PRIMARY KEY (facility, kind, row, quantity)
) STRICT, WITHOUT ROWID;

-- What people decided on points and runs (decisions.csv), one row a decision. A point's own row stands
-- before its run's.
CREATE TABLE decision (
    run      TEXT NOT NULL,
    point    TEXT NOT NULL,         -- "" for the whole run
    decision TEXT NOT NULL,         -- exclude, restore
    who      TEXT NOT NULL,
    decided  TEXT NOT NULL,         -- date or time, as written
    why      TEXT NOT NULL,
    sheet_line INTEGER NOT NULL,    -- line in decisions.csv
    PRIMARY KEY (run, point)
) STRICT, WITHOUT ROWID;

-- ---- what the logs said -----------------------------------------------------------------------

CREATE TABLE log (
    run      TEXT NOT NULL REFERENCES run ON DELETE CASCADE,
    position INTEGER NOT NULL,      -- 0, 1, ... in the run sheet's cell
    file     TEXT NOT NULL,         -- relative to the campaign folder
    map      TEXT NOT NULL,         -- channel map it was read with
    block    TEXT NOT NULL,         -- title of the block of the file that was read; "" = all of it
    sha256   TEXT NOT NULL,
    bytes    INTEGER NOT NULL,
    mtime_ns INTEGER NOT NULL,      -- with bytes: tells an untouched file without reading it
    rows     INTEGER NOT NULL,      -- data rows read
    rows_in_no_point INTEGER NOT NULL, -- of them: not recorded, or not settled in a sweep
    PRIMARY KEY (run, position)
) STRICT, WITHOUT ROWID;

-- The channels of a run, in the order of its statistics blobs.
CREATE TABLE channel (
    run      TEXT NOT NULL REFERENCES run ON DELETE CASCADE,
    position INTEGER NOT NULL,
    log_position INTEGER NOT NULL,
    column_name TEXT NOT NULL,
    role     TEXT NOT NULL,         -- schema/role.h
    tap      TEXT,                  -- when role = tap
    unit     TEXT NOT NULL,         -- unit the values are kept in (SI, or the balance's own)
    written_unit TEXT NOT NULL,     -- unit in the log
    sign     REAL NOT NULL,
    covariance_position INTEGER,    -- row in the covariance blob, NULL when not in it
    lag_s    REAL,                  -- behind the wind of its log, where it follows it best; NULL: not told
    lag_correlation REAL,           -- with the wind at that lag
    unlagged_correlation REAL,      -- and without it
    lag_samples REAL,               -- independent samples behind both
    PRIMARY KEY (run, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE point (
    run      TEXT NOT NULL REFERENCES run ON DELETE CASCADE,
    point    TEXT NOT NULL,         -- label, unique in the run
    sequence INTEGER NOT NULL,
    time_s   REAL NOT NULL,         -- mean time of the point, seconds since 1970-01-01T00:00:00Z
    duration_s REAL,                -- NULL when the log has no time
    rows     INTEGER NOT NULL,
    first_line INTEGER NOT NULL,    -- physical lines in the first log that has it
    last_line  INTEGER NOT NULL,
    statistics BLOB NOT NULL,       -- schema/point_statistics.h
    covariance BLOB,                -- k x k float64, row-major; load channels and pressures of q
    PRIMARY KEY (run, point)
) STRICT;

-- Samples worth a look, thinned: of points where one of them may have raised a flag, and of channels that
-- keep_samples names. Rows of a point count from 0; row r is step_s * r after its first.
CREATE TABLE trace (
    run      TEXT NOT NULL,
    point    TEXT NOT NULL,
    position INTEGER NOT NULL,      -- of the channel in the table channel
    reason   TEXT NOT NULL,         -- rule that the samples may have raised; kept: keep_samples alone
    severity REAL,                  -- what was seen over its limit when read; NULL: nothing
    step_s   REAL,                  -- between rows; NULL where the log does not tell
    rows     INTEGER NOT NULL,      -- of the point
    rows_a_bin INTEGER NOT NULL,
    mean REAL NOT NULL, sd REAL,    -- of all samples, in the channel's unit
    mean_without REAL,              -- of those not marked; NULL where that is no better mean
    marked_rows INTEGER NOT NULL,
    peak REAL NOT NULL,             -- the sample farthest from the mean
    peak_row INTEGER NOT NULL,
    segment_rows INTEGER, segments INTEGER, -- of the spectrum: Hann, half overlapping; NULL: none
    degrees_of_freedom REAL,        -- of each density, equivalent
    lower_factor REAL, upper_factor REAL,   -- times a density: between these the true one is, 95 %
    PRIMARY KEY (run, point, position),
    FOREIGN KEY (run, point) REFERENCES point ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE trace_bin (
    run TEXT NOT NULL, point TEXT NOT NULL, position INTEGER NOT NULL,
    bin      INTEGER NOT NULL,      -- rows bin * rows_a_bin and those after it
    n        INTEGER NOT NULL,      -- samples in it; the rest is NULL where there is none
    minimum REAL, mean REAL, maximum REAL,
    PRIMARY KEY (run, point, position, bin),
    FOREIGN KEY (run, point, position) REFERENCES trace ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE trace_mark (
    run TEXT NOT NULL, point TEXT NOT NULL, position INTEGER NOT NULL,
    mark     INTEGER NOT NULL,
    first_row INTEGER NOT NULL, last_row INTEGER NOT NULL,
    PRIMARY KEY (run, point, position, mark),
    FOREIGN KEY (run, point, position) REFERENCES trace ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE spectrum (
    run TEXT NOT NULL, point TEXT NOT NULL, position INTEGER NOT NULL,
    bin      INTEGER NOT NULL,      -- 0 .. segment_rows / 2
    frequency_hz REAL NOT NULL,
    density  REAL NOT NULL,         -- one-sided, the channel's unit squared per Hz
    PRIMARY KEY (run, point, position, bin),
    FOREIGN KEY (run, point, position) REFERENCES trace ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

-- What no coefficient is made of, in the open: every channel of a run of kind record_only, those of a run
-- whose log states uncertainties (taps apart), and the channels with the role other of all runs. The rest
-- is in point.statistics.
CREATE TABLE channel_statistic (
    run      TEXT NOT NULL REFERENCES run ON DELETE CASCADE,
    point    TEXT NOT NULL,
    position INTEGER NOT NULL,      -- of the channel in the table channel
    column_name TEXT NOT NULL,
    role     TEXT NOT NULL,
    unit     TEXT NOT NULL,         -- of mean, sd, minimum and maximum: SI
    mean     REAL,                  -- NULL when the point has no sample of it
    sd       REAL,                  -- NULL when it cannot be estimated
    n        REAL NOT NULL,         -- samples used, or the count an averaged row gives
    n_missing REAL NOT NULL,        -- samples that the log declares missing
    minimum  REAL, maximum REAL,
    stated_uncertainty REAL,        -- of mean, expanded, 95 %; NULL where the log states none
    PRIMARY KEY (run, point, position)
) STRICT, WITHOUT ROWID;

-- ---- what reduce made of it -------------------------------------------------------------------

CREATE TABLE reduction (
    reduction INTEGER PRIMARY KEY,
    stage    TEXT NOT NULL,         -- record, point, target, uncertainty, repeatability, noise_check,
                                    -- compare, derive, pressure_map, budget
    subject  TEXT NOT NULL,         -- run, configuration or family
    key      TEXT NOT NULL,         -- SHA-256 of inputs
    inputs   TEXT NOT NULL,         -- canonical text of all it depends on, methods included
    is_current INTEGER NOT NULL,
    UNIQUE (stage, subject, key)
) STRICT;
CREATE INDEX reduction_current ON reduction (stage, subject) WHERE is_current = 1;

CREATE TABLE point_result (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    run      TEXT NOT NULL,
    point    TEXT NOT NULL,
    front_ride_height_m REAL, rear_ride_height_m REAL,   -- attained
    yaw_rad REAL, roll_rad REAL, pitch_rad REAL, steer_rad REAL,
    static_pressure_pa REAL, static_temperature_k REAL, density_kg_m3 REAL,
    dynamic_pressure_pa REAL, mach REAL, speed_m_s REAL, reynolds REAL, -- on the wheelbase
    q_ratio  REAL,                  -- q_c/q of the blockage step, 1 when none
    drag_coefficient REAL, side_coefficient REAL, downforce_coefficient REAL,
    downforce_front_coefficient REAL, downforce_rear_coefficient REAL,
    roll_coefficient REAL, pitch_coefficient REAL, yaw_coefficient REAL,
    balance_percent REAL, lift_to_drag REAL, drag_area_m2 REAL, downforce_area_m2 REAL,
    drag_coefficient_u REAL, side_coefficient_u REAL, downforce_coefficient_u REAL, -- within the point
    downforce_front_coefficient_u REAL, downforce_rear_coefficient_u REAL,
    balance_percent_u REAL,
    state    TEXT NOT NULL,         -- ok, flagged, failed, refused; by a decision: excluded, restored
    rule_state TEXT NOT NULL DEFAULT 'ok', -- what the rules alone say: ok, flagged, failed, refused
    PRIMARY KEY (reduction, point)
) STRICT, WITHOUT ROWID;

-- Parts of the car inside the loads of a run's points: of the balance, and of cells that were added.
CREATE TABLE load_content (
    reduction INTEGER PRIMARY KEY REFERENCES reduction ON DELETE CASCADE,
    drag_contains      TEXT NOT NULL, -- "body, wheels"
    downforce_contains TEXT NOT NULL
) STRICT;

-- The rigid weight fitted to the weight tare of a run (weight_tare: fit). NULL where the sweep does not
-- tell it. Places are those of the car: x aft, y right, z up from the ground at mid-wheelbase.
CREATE TABLE weight_fit (
    reduction INTEGER PRIMARY KEY REFERENCES reduction ON DELETE CASCADE,
    tare_run TEXT NOT NULL,
    points   INTEGER NOT NULL,      -- of the tare run that were fitted
    weight_n REAL, weight_n_u REAL,
    scales_weight_n REAL,           -- as declared; NULL when not given
    cg_x_m REAL, cg_y_m REAL, cg_z_m REAL,
    cg_x_m_u REAL, cg_y_m_u REAL, cg_z_m_u REAL,
    condition_number REAL,          -- of the fit of the centre of gravity
    residual_fx_n REAL, residual_fy_n REAL, residual_fz_n REAL,     -- root mean square, balance
    residual_mx_nm REAL, residual_my_nm REAL, residual_mz_nm REAL   -- reference point
) STRICT;

CREATE TABLE tap_result (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    point    TEXT NOT NULL,
    tap      TEXT NOT NULL,
    cp_raw   REAL,
    cp       REAL,                  -- corrected, stagnation value kept
    cp_u     REAL,                  -- random, within the point
    n        REAL NOT NULL,
    state    TEXT NOT NULL,         -- ok, failed
    PRIMARY KEY (reduction, point, tap)
) STRICT, WITHOUT ROWID;

-- Every step of every number: loads after each load step, coefficients after each coefficient step.
CREATE TABLE ledger_row (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    point    TEXT NOT NULL,
    sequence INTEGER NOT NULL,      -- of the step
    step     TEXT NOT NULL,         -- zero, balance, weight tare, transfer, freestream, raw, ...
    quantity TEXT NOT NULL,         -- Fx .. Mz, or a symbol of schema/quantity.h
    unit     TEXT NOT NULL,
    value    REAL,
    PRIMARY KEY (reduction, point, sequence, quantity)
) STRICT, WITHOUT ROWID;

-- Points brought to a target attitude, one row a point that belongs to one.
CREATE TABLE target_result (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    run      TEXT NOT NULL,
    point    TEXT NOT NULL,
    target   TEXT NOT NULL,
    method   TEXT NOT NULL,         -- "at target", "local fit", "left at attained"
    is_used  INTEGER NOT NULL,      -- 1: may be compared at this target
    reason   TEXT NOT NULL DEFAULT '', -- why not: excluded, failed, off-target, near-stall,
                                       -- target-refused; restored
                                       -- where a decision took it in; "" otherwise
    drag_coefficient REAL, side_coefficient REAL, downforce_coefficient REAL,
    downforce_front_coefficient REAL, downforce_rear_coefficient REAL,
    roll_coefficient REAL, pitch_coefficient REAL, yaw_coefficient REAL,
    balance_percent REAL, lift_to_drag REAL, drag_area_m2 REAL, downforce_area_m2 REAL,
    drag_coefficient_u REAL, side_coefficient_u REAL, downforce_coefficient_u REAL, -- added by the step
    downforce_front_coefficient_u REAL, downforce_rear_coefficient_u REAL,
    roll_coefficient_u REAL, pitch_coefficient_u REAL, yaw_coefficient_u REAL,
    balance_percent_u REAL,
    fit_degrees_of_freedom REAL,    -- of what the step added; NULL where nothing was carried
    PRIMARY KEY (reduction, run, point)
) STRICT, WITHOUT ROWID;

-- The same points as a comparison on another basis takes them, slopes included; only of configurations
-- where that differs from target_result. Read for exclusion_effect.
CREATE TABLE target_other (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    basis    TEXT NOT NULL,         -- "all in": no decision, no failure; "rules alone": no decision
    run      TEXT NOT NULL,
    point    TEXT NOT NULL,
    target   TEXT NOT NULL,
    method   TEXT NOT NULL,
    is_used  INTEGER NOT NULL,
    reason   TEXT NOT NULL DEFAULT '',
    drag_coefficient REAL, side_coefficient REAL, downforce_coefficient REAL,
    downforce_front_coefficient REAL, downforce_rear_coefficient REAL,
    roll_coefficient REAL, pitch_coefficient REAL, yaw_coefficient REAL,
    balance_percent REAL, lift_to_drag REAL, drag_area_m2 REAL, downforce_area_m2 REAL,
    drag_coefficient_u REAL, side_coefficient_u REAL, downforce_coefficient_u REAL,
    downforce_front_coefficient_u REAL, downforce_rear_coefficient_u REAL,
    roll_coefficient_u REAL, pitch_coefficient_u REAL, yaw_coefficient_u REAL,
    balance_percent_u REAL,
    fit_degrees_of_freedom REAL,
    PRIMARY KEY (reduction, basis, run, point)
) STRICT, WITHOUT ROWID;

-- Elemental sources of error of a configuration's points, those that are declared and those that the program
-- sees itself. Scatter takes several positions: independent parts of one source.
CREATE TABLE uncertainty_source (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    position INTEGER NOT NULL,      -- as in point_budget.contributions
    source   TEXT NOT NULL,
    input    TEXT NOT NULL,         -- of the point that it adds to; "" for a source that is none
    reach    TEXT NOT NULL,         -- of one draw of it: point, run, configuration, entry, always
    shape    TEXT NOT NULL,         -- normal, rectangular, triangular, arcsine
    standard REAL,                  -- in the unit, or a share of the input; NULL: each run or point has its own
    unit     TEXT NOT NULL,
    is_relative INTEGER NOT NULL,
    degrees_of_freedom REAL,        -- of the standard uncertainty; NULL: infinite, or each its own
    evidence TEXT NOT NULL,
    PRIMARY KEY (reduction, position)
) STRICT, WITHOUT ROWID;

-- What each value of a point is uncertain by, all sources together: at its target, or where it belongs to
-- none at its attained attitude.
CREATE TABLE point_uncertainty (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    run      TEXT NOT NULL,
    point    TEXT NOT NULL,
    quantity TEXT NOT NULL,
    standard REAL NOT NULL,
    degrees_of_freedom REAL,        -- NULL: infinite
    repeatability REAL NOT NULL,    -- of it, what the next run would draw anew
    method   TEXT NOT NULL,         -- steps, trials; "steps, bent": steps do not tell it well
    seed     INTEGER,               -- of the trials
    PRIMARY KEY (reduction, run, point, quantity)
) STRICT, WITHOUT ROWID;

CREATE TABLE point_budget (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    run      TEXT NOT NULL,
    point    TEXT NOT NULL,
    untold   TEXT NOT NULL,         -- sources whose effect the point can't tell, comma and blank between
    contributions BLOB NOT NULL,    -- float64, eleven a source: position, degrees of freedom (0: infinite), then
                                    -- what it does to CD CY CL CLF CLR balance L/D CDA CLA, signed
    PRIMARY KEY (reduction, run, point)
) STRICT, WITHOUT ROWID;

-- A configuration's value in one mounting at one measure: the unit of evidence.
CREATE TABLE observation (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    mounting INTEGER NOT NULL,      -- 1, 2, ... in time
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name or "weighted"
    runs     TEXT NOT NULL,         -- run names, comma and blank between
    time_s   REAL NOT NULL,
    value    REAL NOT NULL,
    baseline_here REAL,             -- baseline interpolated to this time; NULL for the baseline itself
    delta    REAL,                  -- value - baseline_here
    PRIMARY KEY (reduction, configuration, mounting, quantity, target)
) STRICT, WITHOUT ROWID;

CREATE TABLE delta_result (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    baseline TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name or "weighted"
    is_main  INTEGER NOT NULL,      -- 1: the declared main measure, interval simultaneous
    delta    REAL,
    standard_uncertainty REAL,      -- scatter of mountings, bend of drift, steps to the target
    degrees_of_freedom REAL,
    half_width REAL,                -- of the interval drawn and judged by
    lower    REAL, upper REAL,
    multiplier REAL,                -- half_width / standard_uncertainty
    mountings INTEGER NOT NULL,     -- independent repeats of the configuration
    baseline_mountings INTEGER NOT NULL,
    verdict  TEXT,                  -- gain, loss, no change that matters, can't tell yet, changed
    real_but_small INTEGER NOT NULL,
    reason   TEXT NOT NULL,         -- why no verdict or no interval, or caveats to it; "" otherwise
    method   TEXT NOT NULL DEFAULT '',       -- of the headline: whole night, local bracket; "" without interval
    noise_source TEXT NOT NULL DEFAULT '',   -- whose repeats the interval rests on: tonight, season
    beside_delta REAL, beside_standard_uncertainty REAL, beside_degrees_of_freedom REAL, -- the other method's
    disagrees INTEGER NOT NULL DEFAULT 0,    -- 1: both differ by more than two combined standard errors
    pairs_needed INTEGER,           -- more pairs of mountings, where it can't be told yet; NULL: not meant
    shrunk   REAL, shrunk_standard_uncertainty REAL, -- by how large deltas usually are; NULL: too few known
    PRIMARY KEY (reduction, configuration, quantity, target)
) STRICT, WITHOUT ROWID;

-- Would the verdict be another without some of it? Deltas of the main measure found again, a row a variant:
-- "without return R04" (one mounting of the baseline), "without flagged points", "all in", "rules alone".
CREATE TABLE robustness (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,
    variant  TEXT NOT NULL,
    delta    REAL, half_width REAL,
    verdict  TEXT,                  -- NULL for none
    PRIMARY KEY (reduction, configuration, quantity, target, variant)
) STRICT, WITHOUT ROWID;

-- What the variants make of the verdict, one row a configuration with one.
CREATE TABLE stability_result (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,
    stability TEXT NOT NULL,        -- firm, softer without some, depends on what is left out, reversed by ..
    variants INTEGER NOT NULL,      -- looked at
    same     INTEGER NOT NULL,      -- of them with the verdict's word
    PRIMARY KEY (reduction, configuration, quantity, target)
) STRICT, WITHOUT ROWID;

-- Absolute and delta uncertainty side by side, standard uncertainties by the budget of sources. They are not
-- the same, and neither stands for the other: what both configurations share is in the first and cancels
-- in the second; what parts are refitted by is in neither unless it is declared.
CREATE TABLE delta_uncertainty (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    baseline TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name or "weighted"
    is_main  INTEGER NOT NULL,
    standard_configuration REAL NOT NULL, -- of its value
    degrees_of_freedom_configuration REAL, -- NULL: infinite
    standard_baseline REAL NOT NULL,
    standard_delta REAL NOT NULL,   -- of the difference
    degrees_of_freedom_delta REAL,  -- NULL: infinite
    predicted_scatter REAL,         -- sd of one mounting's value, by the budget
    observed_scatter REAL,          -- sd of one mounting's value, as mountings of the family scatter
    observed_degrees_of_freedom REAL,
    PRIMARY KEY (reduction, configuration, quantity, target)
) STRICT, WITHOUT ROWID;

CREATE TABLE delta_budget (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,
    position INTEGER NOT NULL,      -- the first of uncertainty_source that has this name
    source   TEXT NOT NULL,
    reach    TEXT NOT NULL,
    u_configuration REAL NOT NULL,  -- of the configuration's value, by this source alone
    u_baseline REAL NOT NULL,
    u_delta  REAL NOT NULL,         -- of the difference
    share_percent REAL NOT NULL,    -- of the delta's variance; with correlations it may be negative
    PRIMARY KEY (reduction, configuration, quantity, target, position)
) STRICT, WITHOUT ROWID;

-- What was left out or taken in, and what that changes: a delta as it stands (with) and on another
-- basis (without). Only where a point or a number differs.
CREATE TABLE exclusion_effect (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name or "weighted"
    basis    TEXT NOT NULL,         -- "all in": no decision, no failure; "rules alone": no decision
    is_main  INTEGER NOT NULL,      -- 1: the declared main measure, intervals simultaneous
    delta_with REAL, half_width_with REAL,
    verdict_with TEXT,
    delta_without REAL, half_width_without REAL,
    verdict_without TEXT,
    points   INTEGER NOT NULL,      -- of the configuration and its baseline that only one of both uses
    runs     INTEGER NOT NULL,      -- that have such points
    decided_by TEXT NOT NULL,       -- who decided on those points, comma and blank between; "" for rules
    PRIMARY KEY (reduction, configuration, quantity, target, basis)
) STRICT, WITHOUT ROWID;

-- What a change of drag brings in downforce: delta CL over delta CD, with Fieller's interval.
CREATE TABLE delta_ratio (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    baseline TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name or "weighted"
    ratio    REAL,                  -- NULL when the change of drag is exactly 0
    lower    REAL, upper REAL,
    kind     TEXT NOT NULL,         -- interval: lower to upper; outside: up to lower and from upper on;
                                    -- everything: any ratio; none: no interval, reason says why
    correlation REAL,               -- of both deltas
    degrees_of_freedom REAL,        -- the lesser of both deltas'
    multiplier REAL,
    reason   TEXT NOT NULL,
    PRIMARY KEY (reduction, configuration, target)
) STRICT, WITHOUT ROWID;

-- What a part is worth once a trimming device (section trim of campaign.yaml) has taken its change of
-- balance back.
CREATE TABLE trimmed_delta (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    baseline TEXT NOT NULL,
    device   TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,
    delta    REAL,                  -- at the baseline's balance
    standard_uncertainty REAL,
    degrees_of_freedom REAL,        -- the least of the deltas it is made of
    half_width REAL,
    lower    REAL, upper REAL,
    multiplier REAL,
    setting_change REAL,            -- of the device, from where the baseline has it
    setting_unit TEXT NOT NULL,     -- as declared
    reason   TEXT NOT NULL,         -- why there is none; "" otherwise
    PRIMARY KEY (reduction, configuration, device, quantity, target)
) STRICT, WITHOUT ROWID;

-- A package against the sum of its parts (column parts of configurations.csv).
CREATE TABLE package_delta (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,    -- the package
    baseline TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,
    parts    TEXT NOT NULL,         -- names, semicolon and blank between
    package  REAL,                  -- its delta
    sum_of_parts REAL,              -- of the parts' deltas
    interaction REAL,               -- package - sum_of_parts: what they do to each other
    standard_uncertainty REAL,      -- of the interaction
    degrees_of_freedom REAL,        -- the least of the deltas it is made of
    half_width REAL,
    lower    REAL, upper REAL,
    multiplier REAL,
    reason   TEXT NOT NULL,
    PRIMARY KEY (reduction, configuration, quantity, target)
) STRICT, WITHOUT ROWID;

-- Run-to-run noise the intervals rest on, pooled over the family.
CREATE TABLE noise (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,
    standard_deviation REAL NOT NULL, -- of one mounting
    degrees_of_freedom REAL NOT NULL,
    PRIMARY KEY (reduction, quantity, target)
) STRICT, WITHOUT ROWID;

-- How well values repeat in one family of one entry: the variance of single measurements about the mean of
-- those between which no more was done than the level says (reduce/statistics/variance_levels.h).
CREATE TABLE repeatability (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    facility TEXT NOT NULL,
    entry    TEXT NOT NULL,
    started_s REAL NOT NULL,        -- start of the entry's first run
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name or "weighted"
    level    TEXT NOT NULL,         -- back to back, attitude returned, part refitted
    variance REAL NOT NULL,
    degrees_of_freedom REAL NOT NULL,
    measurements INTEGER NOT NULL,  -- it rests on: points, runs or mountings
    PRIMARY KEY (reduction, quantity, target, level)
) STRICT, WITHOUT ROWID;

-- A configuration's mean over its mountings in an entry: what entries are told apart by.
CREATE TABLE entry_mean (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    facility TEXT NOT NULL,
    entry    TEXT NOT NULL,
    started_s REAL NOT NULL,
    configuration TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,
    mountings INTEGER NOT NULL,
    mean     REAL NOT NULL,
    PRIMARY KEY (reduction, quantity, target, configuration)
) STRICT, WITHOUT ROWID;

-- All that is known of a facility's repeatability: every entry pooled, with what the campaign declares.
CREATE TABLE repeatability_season (
    facility TEXT NOT NULL,
    quantity TEXT NOT NULL,
    target   TEXT NOT NULL,         -- target name or "weighted"
    level    TEXT NOT NULL,         -- and new entry
    standard_deviation REAL NOT NULL,
    degrees_of_freedom REAL NOT NULL,
    entries  INTEGER NOT NULL,      -- that were measured and say something of it
    declared INTEGER NOT NULL,      -- 1: a figure that campaign.yaml declares is pooled in
    PRIMARY KEY (facility, quantity, target, level)
) STRICT, WITHOUT ROWID;

-- Points that were measured again, and the uncertainty that the log states of their difference.
CREATE TABLE repeat_pair_result (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    quantity TEXT NOT NULL,         -- a role, or a column with the role other
    unit     TEXT NOT NULL,
    earlier_run TEXT NOT NULL, earlier_point TEXT NOT NULL,
    later_run TEXT NOT NULL, later_point TEXT NOT NULL,
    earlier  REAL NOT NULL, later REAL NOT NULL,
    difference REAL NOT NULL,       -- later minus earlier
    stated_uncertainty REAL NOT NULL, -- of the difference: both by root sum of squares
    is_inside INTEGER NOT NULL,     -- 1: the difference is not larger
    PRIMARY KEY (reduction, quantity, earlier_run, earlier_point, later_run)
) STRICT, WITHOUT ROWID;

-- What the pairs of two runs say together, and those of all (runs ""), by statistics/repeat_agreement.h.
CREATE TABLE repeat_result (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    quantity TEXT NOT NULL,
    unit     TEXT NOT NULL,
    earlier_run TEXT NOT NULL, later_run TEXT NOT NULL,
    pairs    INTEGER NOT NULL,
    inside   INTEGER NOT NULL,
    expected_inside REAL NOT NULL,
    p_so_few REAL NOT NULL, p_so_many REAL NOT NULL,
    scatter_ratio REAL,             -- observed over stated; NULL where a stated one is 0
    repeat_sd REAL NOT NULL,        -- of one measurement, shift between the series included
    repeat_sd_about_shift REAL,     -- without it; NULL where it cannot be told
    shift    REAL NOT NULL,         -- later minus earlier; over all, the mean of the series' shifts
    shift_u  REAL, degrees_of_freedom REAL, shift_p REAL, -- NULL where it cannot be tested
    PRIMARY KEY (reduction, quantity, earlier_run, later_run)
) STRICT, WITHOUT ROWID;

-- Mean tap pressures of a configuration at one attitude, and its change from the baseline.
CREATE TABLE map_tap (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    target   TEXT NOT NULL,
    tap      TEXT NOT NULL,
    cp       REAL,                  -- NULL for a dead tap
    delta_cp REAL,                  -- against the bracketing baseline; NULL where dead or without it
    delta_cp_u REAL,                -- standard uncertainty between mountings, NULL when unknown
    degrees_of_freedom REAL,        -- of delta_cp_u
    p_value  REAL,                  -- of no change, by mountings; NULL where not tested
    q_value  REAL,                  -- adjusted over the tested taps of the configuration
    not_tested TEXT NOT NULL,       -- why there is no p_value; "" with one, and for the baseline
    runs     INTEGER NOT NULL,
    PRIMARY KEY (reduction, configuration, target, tap)
) STRICT, WITHOUT ROWID;

-- Delaunay triangles over the live taps of one surface, in plan view (x, y), for drawing maps.
CREATE TABLE map_triangle (
    reduction INTEGER NOT NULL REFERENCES reduction ON DELETE CASCADE,
    configuration TEXT NOT NULL,
    target   TEXT NOT NULL,
    surface  TEXT NOT NULL,
    triangle INTEGER NOT NULL,
    tap_a    TEXT NOT NULL, tap_b TEXT NOT NULL, tap_c TEXT NOT NULL,
    PRIMARY KEY (reduction, configuration, target, surface, triangle)
) STRICT, WITHOUT ROWID;

-- Flags of ingest have reduction NULL and are replaced when the run is read again.
CREATE TABLE flag_row (
    id       INTEGER PRIMARY KEY,
    reduction INTEGER REFERENCES reduction ON DELETE CASCADE,
    run      TEXT NOT NULL,         -- "" when it is about no run
    point    TEXT NOT NULL,         -- "" when it is about the whole run
    subject  TEXT NOT NULL,         -- channel, tap, quantity, configuration ... ; "" for none
    rule     TEXT NOT NULL,         -- schema/flag.h: code
    state    TEXT NOT NULL,         -- info, flagged, failed, refused
    value    REAL, limit_value REAL, unit TEXT NOT NULL,
    effect_counts REAL,             -- on the main metric, in counts; NULL when not known
    detail   TEXT NOT NULL          -- one sentence with the numbers in it
) STRICT;
CREATE INDEX flag_row_run ON flag_row (run, point);

CREATE TABLE flag_rule (
    rule     TEXT PRIMARY KEY,
    state    TEXT NOT NULL,
    sentence TEXT NOT NULL,
    consequence TEXT NOT NULL,
    action   TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE data_dictionary (
    object  TEXT NOT NULL,          -- table or view
    name    TEXT NOT NULL,          -- column
    unit    TEXT NOT NULL,
    sign    TEXT NOT NULL,
    meaning TEXT NOT NULL,
    source  TEXT NOT NULL,          -- where the definition comes from
    PRIMARY KEY (object, name)
) STRICT, WITHOUT ROWID;

-- ---- what people query ------------------------------------------------------------------------

CREATE VIEW point_coefficient AS
SELECT r.run, p.point, u.configuration, u.facility, u.entry, t.target,
       datetime(p.time_s, 'unixepoch') AS time_utc,
       r.front_ride_height_m, r.rear_ride_height_m, r.yaw_rad, r.roll_rad, r.pitch_rad, r.steer_rad,
       r.dynamic_pressure_pa, r.mach, r.speed_m_s, r.density_kg_m3, r.reynolds, r.q_ratio,
       r.drag_coefficient, r.side_coefficient, r.downforce_coefficient,
       r.downforce_front_coefficient, r.downforce_rear_coefficient,
       r.roll_coefficient, r.pitch_coefficient, r.yaw_coefficient,
       r.balance_percent, r.lift_to_drag, r.drag_area_m2, r.downforce_area_m2,
       r.drag_coefficient_u, r.downforce_coefficient_u, r.downforce_front_coefficient_u,
       r.downforce_rear_coefficient_u, r.balance_percent_u,
       t.method AS target_method, t.is_used AS target_is_used,
       t.drag_coefficient AS target_drag_coefficient,
       t.downforce_coefficient AS target_downforce_coefficient,
       t.downforce_front_coefficient AS target_downforce_front_coefficient,
       t.downforce_rear_coefficient AS target_downforce_rear_coefficient,
       t.balance_percent AS target_balance_percent,
       t.lift_to_drag AS target_lift_to_drag,
       c.drag_contains, c.downforce_contains,
       r.state
FROM point_result AS r
JOIN reduction AS d ON d.reduction = r.reduction AND d.is_current = 1
JOIN run AS u ON u.run = r.run
JOIN point AS p ON p.run = r.run AND p.point = r.point
LEFT JOIN load_content AS c ON c.reduction = r.reduction
LEFT JOIN (SELECT tr.* FROM target_result AS tr
           JOIN reduction AS td ON td.reduction = tr.reduction AND td.is_current = 1) AS t
       ON t.run = r.run AND t.point = r.point;

CREATE VIEW tap_coefficient AS
SELECT d.subject AS run, c.point, u.configuration, c.tap, a.surface, a.x_m, a.y_m, a.z_m,
       c.cp_raw, c.cp, c.cp_u, c.n, c.state
FROM tap_result AS c
JOIN reduction AS d ON d.reduction = c.reduction AND d.is_current = 1
JOIN run AS u ON u.run = d.subject
JOIN tap AS a ON a.tap = c.tap;

-- Repeats point by point, and what they say of the uncertainty that the logs state.
CREATE VIEW repeat_pair AS
SELECT e.facility, e.entry, p.quantity, p.unit, p.earlier_run, p.earlier_point, p.later_run,
       p.later_point, p.earlier, p.later, p.difference, p.stated_uncertainty, p.is_inside
FROM repeat_pair_result AS p
JOIN reduction AS d ON d.reduction = p.reduction AND d.is_current = 1
JOIN (SELECT DISTINCT facility, entry FROM run) AS e ON d.subject = e.facility || '/' || e.entry;

CREATE VIEW repeat_agreement AS
SELECT e.facility, e.entry, a.quantity, a.unit, a.earlier_run, a.later_run, a.pairs, a.inside,
       a.expected_inside, a.p_so_few, a.p_so_many, a.scatter_ratio, a.repeat_sd,
       a.repeat_sd_about_shift, a.shift, a.shift_u, a.degrees_of_freedom, a.shift_p
FROM repeat_result AS a
JOIN reduction AS d ON d.reduction = a.reduction AND d.is_current = 1
JOIN (SELECT DISTINCT facility, entry FROM run) AS e ON d.subject = e.facility || '/' || e.entry;

-- What a configuration changes at each tap. With is_changed 1 at most 5 % are false in the mean.
CREATE VIEW tap_change AS
SELECT m.configuration, c.baseline, e.facility, e.entry, m.target, m.tap, a.surface, a.x_m, a.y_m,
       a.z_m, m.cp, m.delta_cp, m.delta_cp_u, m.degrees_of_freedom, m.p_value, m.q_value,
       m.q_value <= 0.05 AS is_changed, m.not_tested, m.runs
FROM map_tap AS m
JOIN reduction AS d ON d.reduction = m.reduction AND d.is_current = 1
JOIN configuration AS c ON c.configuration = m.configuration
JOIN tap AS a ON a.tap = m.tap
JOIN (SELECT DISTINCT facility, entry FROM run WHERE kind = 'wind_on') AS e
  ON d.subject = e.facility || '/' || e.entry || '/' || c.baseline;

-- A comparison belongs to one entry at one facility: its reduction's subject says which.
CREATE VIEW delta AS
SELECT x.configuration, x.baseline, e.facility, e.entry, x.quantity, x.target, x.is_main, x.delta,
       x.standard_uncertainty, x.degrees_of_freedom, x.half_width, x.lower, x.upper, x.multiplier,
       x.mountings, x.baseline_mountings, x.verdict, x.real_but_small, x.reason,
       x.method, x.noise_source, x.beside_delta, x.beside_standard_uncertainty,
       x.beside_degrees_of_freedom, x.disagrees, x.pairs_needed, x.shrunk,
       x.shrunk_standard_uncertainty
FROM delta_result AS x
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN (SELECT DISTINCT facility, entry FROM run WHERE kind = 'wind_on') AS e
  ON d.subject = e.facility || '/' || e.entry || '/' || x.baseline;

-- The repeatability of each entry as it stands.
CREATE VIEW repeatability_entry AS
SELECT r.facility, r.entry, datetime(r.started_s, 'unixepoch') AS time_utc, r.quantity, r.target,
       r.level, r.variance, r.degrees_of_freedom, r.measurements
FROM repeatability AS r
JOIN reduction AS d ON d.reduction = r.reduction AND d.is_current = 1;

-- What follows from the deltas of one family; subjects as in delta.
CREATE VIEW ratio AS
SELECT x.configuration, x.baseline, e.facility, e.entry, x.target, x.ratio, x.kind, x.lower, x.upper,
       x.correlation, x.degrees_of_freedom, x.multiplier, x.reason
FROM delta_ratio AS x
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN (SELECT DISTINCT facility, entry FROM run WHERE kind = 'wind_on') AS e
  ON d.subject = e.facility || '/' || e.entry || '/' || x.baseline;

CREATE VIEW equal_balance AS
SELECT x.configuration, x.baseline, e.facility, e.entry, x.device, x.quantity, x.target, x.delta,
       x.standard_uncertainty, x.degrees_of_freedom, x.half_width, x.lower, x.upper, x.multiplier,
       x.setting_change, x.setting_unit, x.reason
FROM trimmed_delta AS x
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN (SELECT DISTINCT facility, entry FROM run WHERE kind = 'wind_on') AS e
  ON d.subject = e.facility || '/' || e.entry || '/' || x.baseline;

CREATE VIEW package AS
SELECT x.configuration, x.baseline, e.facility, e.entry, x.parts, x.quantity, x.target, x.package,
       x.sum_of_parts, x.interaction, x.standard_uncertainty, x.degrees_of_freedom, x.half_width,
       x.lower, x.upper, x.multiplier, x.reason
FROM package_delta AS x
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN (SELECT DISTINCT facility, entry FROM run WHERE kind = 'wind_on') AS e
  ON d.subject = e.facility || '/' || e.entry || '/' || x.baseline;

-- Every variant of every verdict, beside the headline.
CREATE VIEW variant AS
SELECT x.configuration, v.baseline, v.facility, v.entry, x.quantity, x.target, x.variant,
       v.delta AS delta_headline, v.half_width AS half_width_headline,
       v.verdict AS verdict_headline, x.delta, x.half_width, x.verdict,
       coalesce(x.verdict, '') <> coalesce(v.verdict, '') AS verdict_differs
FROM robustness AS x
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN delta AS v ON v.configuration = x.configuration AND v.quantity = x.quantity
     AND v.target = x.target AND d.subject = v.facility || '/' || v.entry || '/' || v.baseline;

-- How firm each verdict stands.
CREATE VIEW stability AS
SELECT x.configuration, v.baseline, v.facility, v.entry, x.quantity, x.target, v.verdict,
       x.stability, x.variants, x.same
FROM stability_result AS x
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN delta AS v ON v.configuration = x.configuration AND v.quantity = x.quantity
     AND v.target = x.target AND d.subject = v.facility || '/' || v.entry || '/' || v.baseline;

-- What a delta is uncertain by, source by source, and the two totals that must not be taken for each other.
CREATE VIEW budget AS
SELECT x.configuration, t.baseline, e.facility, e.entry, x.quantity, x.target, t.is_main, x.source,
       x.reach, x.u_configuration, x.u_baseline, x.u_delta, x.share_percent,
       t.standard_configuration, t.degrees_of_freedom_configuration, t.standard_baseline,
       t.standard_delta, t.degrees_of_freedom_delta, t.predicted_scatter, t.observed_scatter,
       t.observed_degrees_of_freedom
FROM delta_budget AS x
JOIN delta_uncertainty AS t ON t.reduction = x.reduction AND t.configuration = x.configuration
     AND t.quantity = x.quantity AND t.target = x.target
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN (SELECT DISTINCT facility, entry FROM run WHERE kind = 'wind_on') AS e
  ON d.subject = e.facility || '/' || e.entry || '/' || t.baseline;

-- The effect of what was left out or taken in, delta by delta.
CREATE VIEW exclusion AS
SELECT x.configuration, v.baseline, v.facility, v.entry, x.quantity, x.target, x.basis, x.is_main,
       x.delta_with, x.half_width_with, x.verdict_with,
       x.delta_without, x.half_width_without, x.verdict_without,
       coalesce(x.verdict_with, '') <> coalesce(x.verdict_without, '') AS verdict_differs,
       x.points, x.runs, x.decided_by
FROM exclusion_effect AS x
JOIN reduction AS d ON d.reduction = x.reduction AND d.is_current = 1
JOIN delta AS v ON v.configuration = x.configuration AND v.quantity = x.quantity
     AND v.target = x.target AND d.subject = v.facility || '/' || v.entry || '/' || v.baseline;

-- Every point that a decision or a rule's failure left out, or that a decision took in; those off
-- target that a slope would carry there, no others.
-- Rules are those of the point's own flags; a flag may also speak of several points of a run at once.
CREATE VIEW left_out AS
WITH failing AS (SELECT run, point, rule FROM flag_row
                 WHERE state = 'failed' AND subject NOT IN (SELECT tap FROM tap)
                   AND (reduction IS NULL OR
                        reduction IN (SELECT reduction FROM reduction WHERE is_current = 1)))
SELECT r.run, r.point,
       CASE WHEN r.state = 'excluded' AND m.point = '' THEN r.run ELSE r.run || '/' || r.point
            END AS place,
       u.configuration, u.facility, u.entry, coalesce(t.target, '') AS target,
       CASE WHEN r.state = 'restored' OR t.reason = 'restored' THEN 'restored'
            WHEN r.state IN ('excluded', 'failed') THEN r.state
            ELSE t.reason END AS state,
       coalesce((SELECT group_concat(rule, ', ') FROM
                 (SELECT DISTINCT f.rule FROM failing AS f
                  WHERE f.run = r.run AND f.point = r.point ORDER BY f.rule)),
                (SELECT group_concat(rule, ', ') FROM
                 (SELECT DISTINCT f.rule FROM failing AS f
                  WHERE f.run = r.run AND f.point = '' AND r.rule_state = 'failed'
                  ORDER BY f.rule)), '') AS rules,
       coalesce(m.who, '') AS who, coalesce(m.decided, '') AS decided, coalesce(m.why, '') AS why
FROM point_result AS r
JOIN reduction AS d ON d.reduction = r.reduction AND d.is_current = 1
JOIN run AS u ON u.run = r.run
LEFT JOIN (SELECT tr.* FROM target_result AS tr
           JOIN reduction AS td ON td.reduction = tr.reduction AND td.is_current = 1) AS t
       ON t.run = r.run AND t.point = r.point
LEFT JOIN decision AS m ON m.run = r.run AND m.point =
       (SELECT max(point) FROM decision AS o WHERE o.run = r.run AND o.point IN (r.point, ''))
WHERE r.state IN ('excluded', 'failed', 'restored') OR t.reason = 'restored'
   OR (t.reason IN ('off-target', 'near-stall') AND EXISTS
       (SELECT 1 FROM target_other AS o WHERE o.reduction = t.reduction AND o.basis = 'all in'
          AND o.run = t.run AND o.point = t.point AND o.is_used = 1));

CREATE VIEW ledger AS
SELECT d.subject AS run, l.point, l.sequence, l.step, l.quantity, l.unit, l.value,
       l.value - (SELECT b.value FROM ledger_row AS b
                  WHERE b.reduction = l.reduction AND b.point = l.point
                    AND b.quantity = l.quantity AND b.sequence < l.sequence
                  ORDER BY b.sequence DESC LIMIT 1) AS change
FROM ledger_row AS l
JOIN reduction AS d ON d.reduction = l.reduction AND d.is_current = 1;

CREATE VIEW flag AS
SELECT f.run, f.point, f.subject, f.rule, f.state, f.value, f.limit_value, f.unit,
       f.effect_counts, f.detail,
       k.sentence, k.consequence, k.action
FROM flag_row AS f
JOIN flag_rule AS k ON k.rule = f.rule
WHERE f.reduction IS NULL
   OR f.reduction IN (SELECT reduction FROM reduction WHERE is_current = 1);

-- Traces in the open: the channel's names and the times of the bins.
CREATE VIEW trace_thinned AS
SELECT t.run, t.point, coalesce(c.tap, c.column_name) AS channel, c.role, c.unit, t.reason, b.bin,
       b.bin * t.rows_a_bin * t.step_s AS from_s,
       min((b.bin + 1) * t.rows_a_bin, t.rows) * t.step_s AS to_s, b.n, b.minimum, b.mean, b.maximum
FROM trace_bin AS b
JOIN trace AS t ON t.run = b.run AND t.point = b.point AND t.position = b.position
JOIN channel AS c ON c.run = t.run AND c.position = t.position;

CREATE VIEW trace_spectrum AS
SELECT t.run, t.point, coalesce(c.tap, c.column_name) AS channel, c.role, c.unit, s.frequency_hz,
       s.density, s.density * t.lower_factor AS density_lower,
       s.density * t.upper_factor AS density_upper, t.degrees_of_freedom
FROM spectrum AS s
JOIN trace AS t ON t.run = s.run AND t.point = s.point AND t.position = s.position
JOIN channel AS c ON c.run = t.run AND c.position = t.position;

-- Which trace shows what a flag speaks of: of its channel where it is about one, else of those it is made of.
CREATE VIEW flag_trace AS
SELECT f.run, f.rule, f.subject, t.point, t.position, coalesce(c.tap, c.column_name) AS channel,
       t.severity
FROM (SELECT DISTINCT run, point, subject, rule FROM flag) AS f
JOIN trace AS t ON t.run = f.run AND f.point IN ('', t.point)
JOIN channel AS c ON c.run = t.run AND c.position = t.position
WHERE (f.rule IN ('spikes', 'stuck', 'clipped', 'noise-unusual') AND t.reason = f.rule
       AND f.subject = coalesce(c.tap, c.column_name))
   OR (f.rule = 'q-unsteady' AND t.reason = f.rule)
   OR (f.rule = 'trend' AND t.reason = 'trend')
   OR (f.rule = 'q-trend' AND t.reason = 'trend' AND c.role IN ('total_minus_static',
       'contraction_drop', 'nozzle_drop', 'plenum_drop', 'dynamic_pressure'));
