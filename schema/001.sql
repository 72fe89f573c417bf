-- Version 1 of the season file. Every table, column and unit is described in README.md beside this file.
-- Lengths in metres, angles in radians, times in seconds; the column's name ends in its unit.
-- Ids are UUIDv7 in text (RFC 9562), so rows made on two machines can be brought together. NULL means "not known".

PRAGMA application_id = 0x52706c6e; -- "Rpln", byte 68 of the file
PRAGMA user_version = 1;

CREATE TABLE season (
    id     TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    name   TEXT NOT NULL CHECK (length(name) <= 500),
    league TEXT NOT NULL CHECK (length(league) <= 500),
    rules  TEXT NOT NULL CHECK (length(rules) BETWEEN 1 AND 50),
    level  TEXT NOT NULL CHECK (level IN ('youth', 'junior', 'senior', 'elite')),
    reviewer TEXT NOT NULL DEFAULT '' CHECK (length(reviewer) <= 200)
) STRICT;

-- What the shot card asks for besides its own lines, by the field's key.
CREATE TABLE season_asks (
    field TEXT PRIMARY KEY NOT NULL CHECK (length(field) BETWEEN 1 AND 50)
) STRICT;

CREATE TABLE parameter (
    key   TEXT PRIMARY KEY NOT NULL CHECK (length(key) BETWEEN 1 AND 50),
    value REAL NOT NULL CHECK (value BETWEEN -1000 AND 1000),
    unit  TEXT NOT NULL CHECK (unit IN ('m', 's', 'm/s', 'share'))
) STRICT;

CREATE TABLE team (
    id   TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (length(name) <= 500)
) STRICT;

CREATE TABLE goalie (
    id      TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    team_id TEXT REFERENCES team (id),
    name    TEXT NOT NULL CHECK (length(name) <= 500),
    catches TEXT CHECK (catches IN ('left', 'right')),
    height_m          REAL CHECK (height_m BETWEEN 1 AND 2.5),
    blocking_width_m  REAL CHECK (blocking_width_m BETWEEN 0.2 AND 2),
    lateral_speed_mps REAL CHECK (lateral_speed_mps BETWEEN 0.5 AND 10)
) STRICT;
CREATE INDEX goalie_by_team ON goalie (team_id);

CREATE TABLE game (
    id           TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    date         TEXT CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    home_team_id TEXT REFERENCES team (id),
    away_team_id TEXT REFERENCES team (id),
    rules        TEXT NOT NULL CHECK (length(rules) BETWEEN 1 AND 50),
    note         TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 20000)
) STRICT;
CREATE INDEX game_by_home_team ON game (home_team_id);
CREATE INDEX game_by_away_team ON game (away_team_id);

CREATE TABLE film (
    id          TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    game_id     TEXT NOT NULL REFERENCES game (id) ON DELETE CASCADE,
    path        TEXT NOT NULL CHECK (length(path) BETWEEN 1 AND 10000),
    bytes       INTEGER NOT NULL CHECK (bytes >= 0),
    fingerprint TEXT NOT NULL CHECK (length(fingerprint) <= 200),
    width_px    INTEGER NOT NULL CHECK (width_px BETWEEN 0 AND 100000),
    height_px   INTEGER NOT NULL CHECK (height_px BETWEEN 0 AND 100000),
    frame_count INTEGER NOT NULL CHECK (frame_count >= 0),
    first_s     REAL CHECK (first_s BETWEEN -1e9 AND 1e9),
    last_s      REAL CHECK (last_s BETWEEN -1e9 AND 1e9),
    CONSTRAINT a_film_has_two_ends CHECK ((first_s IS NULL) = (last_s IS NULL) AND (first_s IS NULL OR first_s <= last_s))
) STRICT;
CREATE INDEX film_by_game ON film (game_id);

-- What opening a film found out, so that it opens at once the next time. Can be thrown away and made again.
CREATE TABLE film_index (
    film_id     TEXT PRIMARY KEY NOT NULL REFERENCES film (id) ON DELETE CASCADE,
    fingerprint TEXT NOT NULL CHECK (length(fingerprint) <= 200),
    library     TEXT NOT NULL CHECK (length(library) <= 200),
    frames      BLOB NOT NULL
) STRICT;

-- What looking a film through found out: cuts, nets in view, whistles, likely chances. Can be thrown away and made again.
CREATE TABLE film_marks (
    film_id     TEXT PRIMARY KEY NOT NULL REFERENCES film (id) ON DELETE CASCADE,
    fingerprint TEXT NOT NULL CHECK (length(fingerprint) <= 200),
    marks       BLOB NOT NULL
) STRICT;

CREATE TABLE rink_fit (
    id             TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    film_id        TEXT NOT NULL REFERENCES film (id) ON DELETE CASCADE,
    frame          INTEGER NOT NULL CHECK (frame >= 0),
    pts_ticks      INTEGER NOT NULL,
    rules          TEXT NOT NULL CHECK (length(rules) BETWEEN 1 AND 50),
    image_from_ice TEXT NOT NULL CHECK (image_from_ice GLOB '[[]*]'),
    ice_from_image TEXT NOT NULL CHECK (ice_from_image GLOB '[[]*]'),
    radial         REAL NOT NULL CHECK (radial BETWEEN -1e6 AND 1e6),
    width_px       INTEGER NOT NULL CHECK (width_px BETWEEN 0 AND 100000),
    height_px      INTEGER NOT NULL CHECK (height_px BETWEEN 0 AND 100000),
    rms_px         REAL NOT NULL CHECK (rms_px BETWEEN 0 AND 1e6),
    click_sigma_px REAL NOT NULL CHECK (click_sigma_px BETWEEN 0 AND 1e6),
    covariance     TEXT NOT NULL CHECK (covariance GLOB '[[]*]'),
    radial_covariance TEXT NOT NULL CHECK (radial_covariance GLOB '[[]*]'),
    carried_from   TEXT REFERENCES rink_fit (id) ON DELETE CASCADE
) STRICT;
CREATE INDEX rink_fit_by_film ON rink_fit (film_id, frame);
CREATE INDEX rink_fit_by_key ON rink_fit (carried_from);

-- Where a clicked fit was carried to, frame by frame, in stretches. Can be thrown away and made again.
CREATE TABLE carry (
    rink_fit_id TEXT NOT NULL REFERENCES rink_fit (id) ON DELETE CASCADE,
    first_frame INTEGER NOT NULL CHECK (first_frame >= 0),
    frames      BLOB NOT NULL,
    PRIMARY KEY (rink_fit_id, first_frame)
) STRICT;

-- What the coach read off the game clock at a frame; in between it counts down, or stands where running is 0.
CREATE TABLE clock_mark (
    id        TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    film_id   TEXT NOT NULL REFERENCES film (id) ON DELETE CASCADE,
    frame     INTEGER NOT NULL CHECK (frame >= 0),
    pts_ticks INTEGER NOT NULL,
    film_s    REAL NOT NULL CHECK (film_s BETWEEN -1e9 AND 1e9),
    period    INTEGER NOT NULL CHECK (period BETWEEN 1 AND 20),
    clock_s   REAL NOT NULL CHECK (clock_s BETWEEN 0 AND 7200),
    running   INTEGER NOT NULL CHECK (running IN (0, 1))
) STRICT;
CREATE UNIQUE INDEX clock_mark_by_film ON clock_mark (film_id, frame);

CREATE TABLE shot (
    id        TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    game_id   TEXT NOT NULL REFERENCES game (id) ON DELETE CASCADE,
    goalie_id TEXT REFERENCES goalie (id),
    film_id   TEXT REFERENCES film (id),
    frame     INTEGER NOT NULL CHECK (frame >= 0),
    pts_ticks INTEGER NOT NULL,
    film_s    REAL NOT NULL CHECK (film_s BETWEEN -1e9 AND 1e9),
    period    INTEGER CHECK (period BETWEEN 1 AND 20),
    clock_s   REAL CHECK (clock_s BETWEEN 0 AND 7200),
    clock_from_marks INTEGER NOT NULL DEFAULT 0 CHECK (clock_from_marks IN (0, 1)),
    far_net   INTEGER NOT NULL DEFAULT 0 CHECK (far_net IN (0, 1)),
    read      TEXT CHECK (read IN ('shot', 'pass')),
    came      TEXT CHECK (came IN ('shot', 'pass', 'carry', 'none')),
    situation TEXT CHECK (situation IN ('rush', 'zone', 'penalty_kill', 'rebound', 'breakaway', 'neutral_ice')),
    strength  TEXT CHECK (strength IN ('even', 'power_play', 'short_handed')),
    outcome   TEXT CHECK (outcome IN ('goal', 'save_held', 'save_rebound', 'post', 'miss', 'block', 'no_shot')),
    note      TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 20000),
    shot_type       TEXT CHECK (shot_type IN ('wrist', 'snap', 'slap', 'backhand', 'one_timer', 'tip')),
    released        TEXT CHECK (released IN ('off_pass', 'carried')),
    numbers         TEXT CHECK (numbers IN ('1_on_0', '1_on_1', '1_on_2', '2_on_0', '2_on_1', '2_on_2', '3_on_1', '3_on_2', '3_on_3')),
    net_place       TEXT CHECK (net_place IN ('high_glove', 'high_middle', 'high_blocker', 'low_glove', 'low_middle', 'low_blocker')),
    saved_with      TEXT CHECK (saved_with IN ('stick', 'pads', 'glove', 'blocker', 'body')),
    rebound_to      TEXT CHECK (rebound_to IN ('in_front', 'glove_side', 'blocker_side', 'behind_net', 'out_of_play')),
    shooter_hand    TEXT CHECK (shooter_hand IN ('left', 'right')),
    drill_state     TEXT CHECK (drill_state IN ('assigned', 'done')),
    rebound_shot_id TEXT REFERENCES shot (id) ON DELETE SET NULL CHECK (rebound_shot_id <> id),
    shooter_number  INTEGER CHECK (shooter_number BETWEEN 0 AND 99),
    drill           TEXT NOT NULL DEFAULT '' CHECK (length(drill) <= 2000),
    tagged_by       TEXT NOT NULL DEFAULT '' CHECK (length(tagged_by) <= 200),
    tagged_at       TEXT CHECK (tagged_at GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-9]*Z')
) STRICT;
CREATE INDEX shot_by_rebound ON shot (rebound_shot_id);
CREATE INDEX shot_by_game ON shot (game_id, film_id, frame);
CREATE INDEX shot_by_goalie ON shot (goalie_id);
CREATE INDEX shot_by_film ON shot (film_id);

-- The coach's own words for a shot.
CREATE TABLE tag (
    id      TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    shot_id TEXT NOT NULL REFERENCES shot (id) ON DELETE CASCADE,
    word    TEXT NOT NULL CHECK (length(word) BETWEEN 1 AND 100)
) STRICT;
CREATE UNIQUE INDEX tag_by_shot ON tag (shot_id, word);

CREATE TABLE moment (
    id               TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    shot_id          TEXT NOT NULL REFERENCES shot (id) ON DELETE CASCADE,
    ordinal          INTEGER NOT NULL CHECK (ordinal >= 0),
    kind             TEXT NOT NULL CHECK (kind IN ('entry', 'pass', 'reception', 'release', 'rebound')),
    film_id          TEXT REFERENCES film (id),
    rink_fit_id      TEXT REFERENCES rink_fit (id) ON DELETE SET NULL,
    same_as          TEXT REFERENCES moment (id) ON DELETE CASCADE CHECK (same_as <> id),
    frame            INTEGER NOT NULL CHECK (frame >= 0),
    pts_ticks        INTEGER NOT NULL,
    depth_m          REAL CHECK (depth_m BETWEEN -200 AND 200),
    depth_sigma_m    REAL CHECK (depth_sigma_m BETWEEN 0 AND 1e6),
    off_angle_m      REAL CHECK (off_angle_m BETWEEN -200 AND 200),
    crease_edge_m    REAL CHECK (crease_edge_m BETWEEN 0 AND 10),
    clearance_m      REAL CHECK (clearance_m BETWEEN -200 AND 200),
    band             TEXT CHECK (band IN ('defensive', 'conservative', 'base', 'aggressive')),
    band_odds        REAL CHECK (band_odds BETWEEN 0 AND 1),
    square_error_rad REAL CHECK (square_error_rad BETWEEN -3.15 AND 3.15),
    net_angle_rad    REAL CHECK (net_angle_rad BETWEEN 0 AND 3.15),
    coverage         REAL CHECK (coverage BETWEEN 0 AND 1),
    net_seen         REAL CHECK (net_seen BETWEEN 0 AND 1),
    open_short_rad   REAL CHECK (open_short_rad BETWEEN 0 AND 3.15),
    open_short_m     REAL CHECK (open_short_m BETWEEN 0 AND 10),
    open_far_rad     REAL CHECK (open_far_rad BETWEEN 0 AND 3.15),
    open_far_m       REAL CHECK (open_far_m BETWEEN 0 AND 10),
    reaction_s       REAL CHECK (reaction_s BETWEEN 0 AND 1e6),
    standing_still   INTEGER CHECK (standing_still IN (0, 1)),
    angle_first      INTEGER CHECK (angle_first IN (0, 1)),
    turn_share       REAL CHECK (turn_share BETWEEN -1e4 AND 1e4),
    out_share        REAL CHECK (out_share BETWEEN -1e4 AND 1e4),
    on_post          INTEGER CHECK (on_post IN (0, 1)),
    advised_from_m   REAL CHECK (advised_from_m BETWEEN 0 AND 200),
    advised_to_m     REAL CHECK (advised_to_m BETWEEN 0 AND 200),
    advised_best_m   REAL CHECK (advised_best_m BETWEEN 0 AND 200),
    furthest_m       REAL CHECK (furthest_m BETWEEN 0 AND 200),
    advised_limit    TEXT CHECK (advised_limit IN ('pass', 'gap', 'situation', 'inside_paint', 'home', 'flat')),
    limiting_threat  INTEGER CHECK (limiting_threat >= 0),
    depth_error_m    REAL CHECK (depth_error_m BETWEEN -400 AND 400),
    shot_open        REAL CHECK (shot_open BETWEEN 0 AND 1),
    net_left         REAL CHECK (net_left BETWEEN 0 AND 1),
    net_left_best    REAL CHECK (net_left_best BETWEEN 0 AND 1),
    came_open        REAL CHECK (came_open BETWEEN 0 AND 1),
    came_open_best   REAL CHECK (came_open_best BETWEEN 0 AND 1),
    came_threat      INTEGER CHECK (came_threat >= 0),
    verdict          TEXT CHECK (verdict IN ('right_depth', 'over_challenged', 'too_far_out', 'sat_back', 'off_angle', 'beaten_across', 'off_the_post', 'not_judged')),
    firm             REAL CHECK (firm BETWEEN 0 AND 1),
    turns_on         TEXT CHECK (length(turns_on) <= 200),
    becomes          TEXT CHECK (becomes IN ('right_depth', 'over_challenged', 'too_far_out', 'sat_back', 'off_angle', 'beaten_across', 'off_the_post', 'not_judged')),
    overruled        TEXT CHECK (overruled IN ('right_depth', 'over_challenged', 'too_far_out', 'sat_back', 'off_angle', 'beaten_across', 'off_the_post', 'not_judged')),
    overrule_reason  TEXT NOT NULL DEFAULT '' CHECK (length(overrule_reason) <= 20000),
    overruled_by     TEXT NOT NULL DEFAULT '' CHECK (length(overruled_by) <= 200),
    overruled_at     TEXT CHECK (overruled_at GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-9]*Z'),
    sight            TEXT CHECK (sight IN ('clear', 'partly', 'screened')),
    feet             TEXT CHECK (feet IN ('set', 'moving')),
    post             TEXT CHECK (post IN ('upright', 'down')),
    model_version    INTEGER NOT NULL CHECK (model_version >= 1),
    CONSTRAINT a_depth_comes_with_its_figures
    CHECK ((depth_m IS NULL) = (off_angle_m IS NULL) AND (depth_m IS NULL) = (crease_edge_m IS NULL)
           AND (depth_m IS NULL) = (clearance_m IS NULL) AND (depth_m IS NULL) = (band IS NULL)
           AND (depth_m IS NULL) = (reaction_s IS NULL)),
    CONSTRAINT an_order_comes_with_its_shares
    CHECK ((angle_first IS NULL) = (turn_share IS NULL) AND (angle_first IS NULL) = (out_share IS NULL)),
    CONSTRAINT an_advice_comes_with_its_figures
    CHECK ((advised_from_m IS NULL) = (advised_to_m IS NULL) AND (advised_from_m IS NULL) = (advised_best_m IS NULL)
           AND (advised_from_m IS NULL) = (furthest_m IS NULL) AND (advised_from_m IS NULL) = (advised_limit IS NULL)
           AND (advised_from_m IS NULL) = (net_left_best IS NULL) AND (advised_from_m IS NULL) = (depth_error_m IS NULL)),
    CONSTRAINT a_verdict_comes_with_its_figures
    CHECK ((verdict IS NULL) = (on_post IS NULL) AND (verdict IS NULL) = (shot_open IS NULL)
           AND (verdict IS NULL) = (net_left IS NULL)),
    CONSTRAINT what_came_has_two_shares CHECK ((came_open IS NULL) = (came_open_best IS NULL)),
    CONSTRAINT what_turns_it_comes_with_what_it_becomes CHECK ((turns_on IS NULL) = (becomes IS NULL)),
    CONSTRAINT a_coverage_comes_with_its_openings
    CHECK ((coverage IS NULL) = (net_angle_rad IS NULL) AND (coverage IS NULL) = (net_seen IS NULL)
           AND (coverage IS NULL) = (open_short_rad IS NULL)
           AND (coverage IS NULL) = (open_short_m IS NULL) AND (coverage IS NULL) = (open_far_rad IS NULL)
           AND (coverage IS NULL) = (open_far_m IS NULL))
) STRICT;
CREATE INDEX moment_by_shot ON moment (shot_id, ordinal);
CREATE INDEX moment_by_film ON moment (film_id);
CREATE INDEX moment_by_rink_fit ON moment (rink_fit_id);
CREATE INDEX moment_by_same_as ON moment (same_as);

CREATE TABLE mark (
    id          TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    moment_id   TEXT REFERENCES moment (id) ON DELETE CASCADE,
    rink_fit_id TEXT REFERENCES rink_fit (id) ON DELETE CASCADE,
    ordinal     INTEGER NOT NULL CHECK (ordinal >= 0),
    kind        TEXT NOT NULL CHECK (kind IN ('goalie', 'skate_left', 'skate_right', 'puck', 'threat', 'landmark')),
    name        TEXT CHECK (length(name) <= 200),
    x_px        REAL CHECK (x_px BETWEEN -1e6 AND 1e6),
    y_px        REAL CHECK (y_px BETWEEN -1e6 AND 1e6),
    ice_x_m     REAL CHECK (ice_x_m BETWEEN -200 AND 200),
    ice_y_m     REAL CHECK (ice_y_m BETWEEN -200 AND 200),
    sigma_xx_m2 REAL CHECK (sigma_xx_m2 BETWEEN 0 AND 1e12),
    sigma_xy_m2 REAL CHECK (sigma_xy_m2 BETWEEN -1e12 AND 1e12),
    sigma_yy_m2 REAL CHECK (sigma_yy_m2 BETWEEN 0 AND 1e12),
    CONSTRAINT a_mark_belongs_to_a_moment_or_a_rink_fit CHECK ((moment_id IS NULL) <> (rink_fit_id IS NULL)),
    CONSTRAINT a_pixel_has_two_numbers CHECK ((x_px IS NULL) = (y_px IS NULL)),
    CONSTRAINT an_ice_position_has_two_numbers CHECK ((ice_x_m IS NULL) = (ice_y_m IS NULL)),
    CONSTRAINT a_covariance_has_three_numbers
    CHECK ((sigma_xx_m2 IS NULL) = (sigma_xy_m2 IS NULL) AND (sigma_xx_m2 IS NULL) = (sigma_yy_m2 IS NULL))
) STRICT;
CREATE INDEX mark_by_moment ON mark (moment_id, ordinal);
CREATE INDEX mark_by_rink_fit ON mark (rink_fit_id, ordinal);

CREATE TABLE threat (
    mark_id   TEXT PRIMARY KEY NOT NULL REFERENCES mark (id) ON DELETE CASCADE,
    kind      TEXT NOT NULL CHECK (kind IN ('one_timer', 'stop', 'tip')),
    lane      TEXT NOT NULL CHECK (lane IN ('open', 'contested')),
    took      INTEGER NOT NULL DEFAULT 0 CHECK (took IN (0, 1)),
    pass_s    REAL CHECK (pass_s BETWEEN 0 AND 1e6),
    have_s    REAL CHECK (have_s BETWEEN 0 AND 1e6),
    late_s    REAL CHECK (late_s BETWEEN 0 AND 1e6),
    spare_s   REAL CHECK (spare_s BETWEEN 0 AND 1e6),
    aims_x_m  REAL CHECK (aims_x_m BETWEEN -200 AND 200),
    aims_y_m  REAL CHECK (aims_y_m BETWEEN -200 AND 200),
    arrives_x_m REAL CHECK (arrives_x_m BETWEEN -200 AND 200),
    arrives_y_m REAL CHECK (arrives_y_m BETWEEN -200 AND 200),
    open_on_arrival REAL CHECK (open_on_arrival BETWEEN 0 AND 1),
    chance    REAL CHECK (chance BETWEEN 0 AND 1),
    CONSTRAINT a_pass_comes_with_its_figures
    CHECK ((pass_s IS NULL) = (have_s IS NULL) AND (pass_s IS NULL) = (late_s IS NULL) AND (pass_s IS NULL) = (spare_s IS NULL)
           AND (pass_s IS NULL) = (aims_x_m IS NULL) AND (pass_s IS NULL) = (aims_y_m IS NULL)
           AND (pass_s IS NULL) = (arrives_x_m IS NULL) AND (pass_s IS NULL) = (arrives_y_m IS NULL)
           AND (pass_s IS NULL) = (open_on_arrival IS NULL) AND (pass_s IS NULL) = (chance IS NULL))
) STRICT;

CREATE TABLE cue (
    id        TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    moment_id TEXT NOT NULL REFERENCES moment (id) ON DELETE CASCADE,
    kind      TEXT NOT NULL CHECK (kind IN ('blade', 'eyes', 'feet', 'puck_place', 'away_from_net')),
    says      TEXT NOT NULL CHECK (says IN ('shot', 'either', 'pass'))
) STRICT;
CREATE INDEX cue_by_moment ON cue (moment_id);

CREATE TABLE answer (
    id          TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    moment_id   TEXT NOT NULL REFERENCES moment (id) ON DELETE CASCADE,
    goalie_id   TEXT REFERENCES goalie (id),
    answered_by TEXT NOT NULL DEFAULT '' CHECK (length(answered_by) <= 200),
    answered_at TEXT NOT NULL CHECK (answered_at GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-9]*Z'),
    read        TEXT CHECK (read IN ('shot', 'pass')),
    ice_x_m     REAL CHECK (ice_x_m BETWEEN -200 AND 200),
    ice_y_m     REAL CHECK (ice_y_m BETWEEN -200 AND 200),
    took_s      REAL CHECK (took_s BETWEEN 0 AND 86400),
    advised_from_m REAL CHECK (advised_from_m BETWEEN 0 AND 200),
    advised_to_m REAL CHECK (advised_to_m BETWEEN 0 AND 200),
    verdict     TEXT CHECK (verdict IN ('right_depth', 'over_challenged', 'too_far_out', 'sat_back', 'off_angle', 'beaten_across', 'off_the_post', 'not_judged')),
    sure        TEXT CHECK (sure IN ('guess', 'fairly', 'sure')),
    call_right  INTEGER CHECK (call_right IN (0, 1)),
    gave_away   REAL CHECK (gave_away BETWEEN -1 AND 1),
    place_right INTEGER CHECK (place_right IN (0, 1)),
    due_on      TEXT CHECK (due_on GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]'),
    CONSTRAINT a_stretch_has_two_ends CHECK ((advised_from_m IS NULL) = (advised_to_m IS NULL)),
    CONSTRAINT an_ice_position_has_two_numbers CHECK ((ice_x_m IS NULL) = (ice_y_m IS NULL))
) STRICT;
CREATE INDEX answer_by_moment ON answer (moment_id);
CREATE INDEX answer_by_goalie ON answer (goalie_id);

-- Who changed which record, and when: one row a record and a sitting (from opening a season for writing to closing it),
-- with the last time in it. A moment's marks and cues, a fit's landmarks, a shot's tags, the season's figures count as their
-- record. Stays when the record is removed: removed_at is how far a removal of the record had seen the changes of that sitting,
-- along_at how far a removal of what it belongs to (or an undo of its making) had. It is removed where a removal has seen all.
CREATE TABLE record_change (
    record_id  TEXT NOT NULL CHECK (length(record_id) = 36),
    sitting    INTEGER NOT NULL,
    changed_at TEXT NOT NULL CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-9]*Z'),
    changed_by TEXT NOT NULL DEFAULT '' CHECK (length(changed_by) <= 200),
    removed_at TEXT CHECK (removed_at GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-9]*Z'),
    along_at   TEXT CHECK (along_at GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-9]*Z'),
    PRIMARY KEY (record_id, sitting)
) STRICT, WITHOUT ROWID;

-- What a removed record last held, as the statement that brings the row back: another coach may have changed it, or something
-- of it, meanwhile. record_id is the record's, of a threat its mark's.
CREATE TABLE removed_row (
    record_id TEXT NOT NULL CHECK (length(record_id) = 36),
    of_table  TEXT NOT NULL CHECK (length(of_table) BETWEEN 1 AND 50),
    row_id    TEXT NOT NULL CHECK (length(row_id) = 36),
    statement TEXT NOT NULL,
    PRIMARY KEY (record_id, of_table, row_id)
) STRICT, WITHOUT ROWID;

-- The same team, goalie, game, film ... that two coaches had each added: the one record that stands for both.
CREATE TABLE joined_record (
    joined_id TEXT PRIMARY KEY NOT NULL CHECK (length(joined_id) = 36),
    record_id TEXT NOT NULL CHECK (length(record_id) = 36 AND record_id <> joined_id)
) STRICT;

-- Undo: one row a change as the coach sees it, and the statements that take it back (or bring it back when undone).
CREATE TABLE change (
    id      INTEGER PRIMARY KEY,
    name    TEXT NOT NULL,
    made_at TEXT NOT NULL,
    undone  INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
) STRICT;

CREATE TABLE change_step (
    id        INTEGER PRIMARY KEY,
    change_id INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
    statement TEXT NOT NULL
) STRICT;
CREATE INDEX change_step_by_change ON change_step (change_id, id);

-- What each shot counts as in a summary, so that a season of any size is summed up without working its facts out: the words of
-- shot_facts beside each other, '-' for NULL (README.md has their order). Worked out from shot_facts and from nothing else.
CREATE TABLE counted_shot (
    shot_id   TEXT PRIMARY KEY NOT NULL CHECK (length(shot_id) = 36),
    game_id   TEXT NOT NULL CHECK (length(game_id) = 36),
    goalie_id TEXT CHECK (length(goalie_id) = 36),
    counts_as TEXT NOT NULL CHECK (length(counts_as) BETWEEN 23 AND 200)
) STRICT, WITHOUT ROWID;

-- Shots that something was changed of since they were counted, by whatever program; empty between two changes of our own.
CREATE TABLE shot_to_count (
    shot_id TEXT PRIMARY KEY NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TRIGGER shot_added AFTER INSERT ON shot
BEGIN INSERT INTO shot_to_count VALUES (NEW.id) ON CONFLICT DO NOTHING; END;
CREATE TRIGGER shot_changed AFTER UPDATE ON shot
BEGIN INSERT INTO shot_to_count VALUES (OLD.id), (NEW.id) ON CONFLICT DO NOTHING; END;
CREATE TRIGGER shot_removed AFTER DELETE ON shot
BEGIN INSERT INTO shot_to_count VALUES (OLD.id) ON CONFLICT DO NOTHING; END;
CREATE TRIGGER moment_added AFTER INSERT ON moment
BEGIN INSERT INTO shot_to_count VALUES (NEW.shot_id) ON CONFLICT DO NOTHING; END;
CREATE TRIGGER moment_changed AFTER UPDATE ON moment
BEGIN INSERT INTO shot_to_count VALUES (OLD.shot_id), (NEW.shot_id) ON CONFLICT DO NOTHING; END;
CREATE TRIGGER moment_removed AFTER DELETE ON moment
BEGIN INSERT INTO shot_to_count VALUES (OLD.shot_id) ON CONFLICT DO NOTHING; END;
CREATE TRIGGER puck_added AFTER INSERT ON mark WHEN NEW.kind = 'puck'
BEGIN INSERT INTO shot_to_count SELECT shot_id FROM moment WHERE id = NEW.moment_id ON CONFLICT DO NOTHING; END;
CREATE TRIGGER puck_changed AFTER UPDATE ON mark WHEN 'puck' IN (OLD.kind, NEW.kind)
BEGIN INSERT INTO shot_to_count SELECT shot_id FROM moment WHERE id IN (OLD.moment_id, NEW.moment_id) ON CONFLICT DO NOTHING; END;
CREATE TRIGGER puck_removed AFTER DELETE ON mark WHEN OLD.kind = 'puck'
BEGIN INSERT INTO shot_to_count SELECT shot_id FROM moment WHERE id = OLD.moment_id ON CONFLICT DO NOTHING; END;

-- One row a shot. A moment that a second camera saw (same_as) is passed over. Its figures are those of the release (the last one); where no release has a depth, of the last moment that
-- has one. A play that was passed also has a decision at the pass: the columns pass_* are of the last moment of a pass that has
-- a depth, where that is another moment.
CREATE VIEW shot_facts AS
SELECT shot.id AS shot_id,
       shot.game_id,
       shot.goalie_id,
       shot.film_id,
       game.date AS game_date,
       home.name AS home_team,
       away.name AS away_team,
       goalie.name AS goalie,
       team.name AS team,
       shot.period,
       shot.clock_s,
       shot.frame,
       shot.film_s,
       shot.read,
       shot.came,
       shot.situation,
       shot.strength,
       shot.outcome,
       shot.outcome IN ('goal', 'save_held', 'save_rebound') AS on_goal,
       shot.outcome IN ('save_held', 'save_rebound') AS saved,
       moment.sight,
       moment.feet,
       moment.post,
       shot.shot_type,
       shot.released,
       shot.numbers,
       shot.net_place,
       shot.saved_with,
       shot.rebound_to,
       shot.shooter_hand,
       shot.drill_state,
       CAST(substr(shot.numbers, 1, 1) AS INTEGER) AS attackers,
       CAST(substr(shot.numbers, -1) AS INTEGER) AS defenders,
       shot.rebound_shot_id,
       shot.shooter_number,
       shot.drill,
       shot.tagged_by,
       (SELECT group_concat(word, ', ') FROM (SELECT word FROM tag WHERE tag.shot_id = shot.id ORDER BY word)) AS tags,
       taker.ice_x_m AS took_x_m,
       taker.ice_y_m AS took_y_m,
       moment.id AS moment_id,
       moment.kind AS moment_kind,
       moment.depth_m,
       moment.depth_sigma_m,
       moment.off_angle_m,
       moment.crease_edge_m,
       moment.clearance_m,
       moment.band,
       moment.band_odds,
       moment.square_error_rad,
       moment.net_angle_rad,
       moment.coverage,
       moment.net_seen,
       moment.reaction_s,
       (SELECT CASE WHEN count(ice_x_m) FILTER (WHERE kind <> 'goalie') = 2 THEN avg(ice_x_m) FILTER (WHERE kind <> 'goalie')
                    ELSE avg(ice_x_m) FILTER (WHERE kind = 'goalie') END
          FROM mark WHERE moment_id = moment.id AND kind IN ('goalie', 'skate_left', 'skate_right')) AS goalie_x_m,
       (SELECT CASE WHEN count(ice_x_m) FILTER (WHERE kind <> 'goalie') = 2 THEN avg(ice_y_m) FILTER (WHERE kind <> 'goalie')
                    ELSE avg(ice_y_m) FILTER (WHERE kind = 'goalie') END
          FROM mark WHERE moment_id = moment.id AND kind IN ('goalie', 'skate_left', 'skate_right')) AS goalie_y_m,
       (SELECT ice_x_m FROM mark WHERE moment_id = moment.id AND kind = 'puck') AS puck_x_m,
       (SELECT ice_y_m FROM mark WHERE moment_id = moment.id AND kind = 'puck') AS puck_y_m,
       coalesce(moment.feet = 'set', moment.standing_still) AS standing_still,
       moment.angle_first,
       moment.on_post,
       moment.advised_from_m,
       moment.advised_to_m,
       moment.advised_best_m,
       moment.advised_limit,
       moment.depth_error_m,
       moment.shot_open,
       moment.net_left,
       moment.net_left_best,
       moment.net_left - moment.net_left_best AS gave_away,
       moment.came_open,
       moment.came_open_best,
       (SELECT count(*) FROM mark WHERE moment_id = moment.id AND kind = 'threat') AS threats,
       (SELECT min(threat.spare_s - threat.late_s) FROM mark JOIN threat ON threat.mark_id = mark.id
         WHERE mark.moment_id = moment.id) AS least_spare_s,
       moment.verdict,
       moment.firm,
       moment.turns_on,
       moment.overruled,
       moment.overrule_reason,
       coalesce(moment.overruled, moment.verdict) AS final_verdict,
       passed.id AS pass_moment_id,
       passed.depth_m AS pass_depth_m,
       passed.clearance_m AS pass_clearance_m,
       passed.band AS pass_band,
       passed.advised_from_m AS pass_advised_from_m,
       passed.advised_to_m AS pass_advised_to_m,
       passed.depth_error_m AS pass_depth_error_m,
       passed.net_left - passed.net_left_best AS pass_gave_away,
       passed.came_open AS pass_came_open,
       passed.came_open_best AS pass_came_open_best,
       (SELECT min(threat.spare_s - threat.late_s) FROM mark JOIN threat ON threat.mark_id = mark.id
         WHERE mark.moment_id = passed.id) AS pass_least_spare_s,
       passed.verdict AS pass_verdict,
       passed.firm AS pass_firm,
       passed.overruled AS pass_overruled,
       passed.overrule_reason AS pass_overrule_reason,
       coalesce(passed.overruled, passed.verdict) AS pass_final_verdict,
       shot.note
  FROM shot
  JOIN game ON game.id = shot.game_id
  LEFT JOIN team AS home ON home.id = game.home_team_id
  LEFT JOIN team AS away ON away.id = game.away_team_id
  LEFT JOIN goalie ON goalie.id = shot.goalie_id
  LEFT JOIN team ON team.id = goalie.team_id
  LEFT JOIN moment ON moment.id = (SELECT candidate.id
                                     FROM moment AS candidate
                                    WHERE candidate.shot_id = shot.id AND candidate.depth_m IS NOT NULL
                                      AND candidate.same_as IS NULL
                                    ORDER BY candidate.kind = 'release' DESC, candidate.ordinal DESC, candidate.id DESC
                                    LIMIT 1)
  LEFT JOIN moment AS passed ON passed.id = (SELECT candidate.id
                                               FROM moment AS candidate
                                              WHERE candidate.shot_id = shot.id AND candidate.kind = 'pass'
                                                AND candidate.depth_m IS NOT NULL AND candidate.id <> moment.id
                                                AND candidate.same_as IS NULL
                                              ORDER BY candidate.ordinal DESC, candidate.id DESC
                                              LIMIT 1)
  LEFT JOIN mark AS taker ON taker.id = (SELECT mark.id
                                           FROM moment AS candidate
                                           JOIN mark ON mark.moment_id = candidate.id
                                           JOIN threat ON threat.mark_id = mark.id
                                          WHERE candidate.shot_id = shot.id AND threat.took AND candidate.same_as IS NULL
                                          ORDER BY candidate.ordinal DESC, candidate.id DESC
                                          LIMIT 1);
