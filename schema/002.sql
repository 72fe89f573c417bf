-- The depth model's second edition: receivers who tip, stop or shoot at once, what is left of the net, a stretch for an
-- advice, verdicts of the depth. What was worked out by the first edition goes; a desk works it out again when it
-- opens the season. Undo starts anew: its steps speak of columns that are gone.
DROP VIEW shot_facts;

-- What a coach may log besides.
ALTER TABLE season ADD COLUMN reviewer TEXT NOT NULL DEFAULT '' CHECK (length(reviewer) <= 200);
ALTER TABLE goalie ADD COLUMN height_m REAL CHECK (height_m BETWEEN 1 AND 2.5);
ALTER TABLE goalie ADD COLUMN blocking_width_m REAL CHECK (blocking_width_m BETWEEN 0.2 AND 2);
ALTER TABLE goalie ADD COLUMN lateral_speed_mps REAL CHECK (lateral_speed_mps BETWEEN 0.5 AND 10);
ALTER TABLE shot ADD COLUMN shot_type TEXT CHECK (shot_type IN ('wrist', 'snap', 'slap', 'backhand', 'one_timer', 'tip'));
ALTER TABLE shot ADD COLUMN released TEXT CHECK (released IN ('off_pass', 'carried'));
ALTER TABLE shot ADD COLUMN numbers TEXT CHECK (numbers IN ('1_on_0', '1_on_1', '1_on_2', '2_on_0', '2_on_1', '2_on_2', '3_on_1', '3_on_2', '3_on_3'));
ALTER TABLE shot ADD COLUMN net_place TEXT CHECK (net_place IN ('high_glove', 'high_middle', 'high_blocker', 'low_glove', 'low_middle', 'low_blocker'));
ALTER TABLE shot ADD COLUMN saved_with TEXT CHECK (saved_with IN ('stick', 'pads', 'glove', 'blocker', 'body'));
ALTER TABLE shot ADD COLUMN rebound_to TEXT CHECK (rebound_to IN ('in_front', 'glove_side', 'blocker_side', 'behind_net', 'out_of_play'));
ALTER TABLE shot ADD COLUMN shooter_hand TEXT CHECK (shooter_hand IN ('left', 'right'));
ALTER TABLE shot ADD COLUMN drill_state TEXT CHECK (drill_state IN ('assigned', 'done'));
ALTER TABLE shot ADD COLUMN rebound_shot_id TEXT REFERENCES shot (id) ON DELETE SET NULL CHECK (rebound_shot_id <> id);
ALTER TABLE shot ADD COLUMN shooter_number INTEGER CHECK (shooter_number BETWEEN 0 AND 99);
ALTER TABLE shot ADD COLUMN drill TEXT NOT NULL DEFAULT '' CHECK (length(drill) <= 2000);
ALTER TABLE shot ADD COLUMN tagged_by TEXT NOT NULL DEFAULT '' CHECK (length(tagged_by) <= 200);
CREATE INDEX shot_by_rebound ON shot (rebound_shot_id);

-- What the shot card asks for besides its own lines, by the field's key.
CREATE TABLE season_asks (
    field TEXT PRIMARY KEY NOT NULL CHECK (length(field) BETWEEN 1 AND 50)
) STRICT;

-- The coach's own words for a shot.
CREATE TABLE tag (
    id      TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    shot_id TEXT NOT NULL REFERENCES shot (id) ON DELETE CASCADE,
    word    TEXT NOT NULL CHECK (length(word) BETWEEN 1 AND 100)
) STRICT;
CREATE UNIQUE INDEX tag_by_shot ON tag (shot_id, word);


CREATE TABLE moment_2 (
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

INSERT INTO moment_2 (id, shot_id, ordinal, kind, film_id, rink_fit_id, same_as, frame, pts_ticks, depth_m, depth_sigma_m, off_angle_m, crease_edge_m, clearance_m, band, band_odds, square_error_rad, net_angle_rad, coverage, net_seen, open_short_rad, open_short_m, open_far_rad, open_far_m, reaction_s, standing_still, angle_first, turn_share, out_share, overruled, overrule_reason, model_version)
SELECT id, shot_id, ordinal, kind, film_id, rink_fit_id, same_as, frame, pts_ticks, depth_m, depth_sigma_m, off_angle_m, crease_edge_m, clearance_m, band, band_odds, square_error_rad, net_angle_rad, coverage, net_seen, open_short_rad, open_short_m, open_far_rad, open_far_m, reaction_s, standing_still, angle_first, turn_share, out_share,
       CASE overruled WHEN 'right_read' THEN 'right_depth' WHEN 'late' THEN 'off_angle' ELSE overruled END,
       overrule_reason, model_version
  FROM moment;
DROP TABLE moment;
ALTER TABLE moment_2 RENAME TO moment;
CREATE INDEX moment_by_shot ON moment (shot_id, ordinal);
CREATE INDEX moment_by_film ON moment (film_id);
CREATE INDEX moment_by_rink_fit ON moment (rink_fit_id);
CREATE INDEX moment_by_same_as ON moment (same_as);

CREATE TABLE threat_2 (
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

INSERT INTO threat_2 (mark_id, kind, lane)
SELECT mark_id, iif(one_timer, 'one_timer', 'stop'), iif(pass_open, 'open', 'contested') FROM threat;
DROP TABLE threat;
ALTER TABLE threat_2 RENAME TO threat;

CREATE TABLE answer_2 (
    id          TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    moment_id   TEXT NOT NULL REFERENCES moment (id) ON DELETE CASCADE,
    goalie_id   TEXT REFERENCES goalie (id),
    answered_at TEXT NOT NULL CHECK (answered_at GLOB '[0-9][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-9]*Z'),
    read        TEXT CHECK (read IN ('shot', 'pass')),
    ice_x_m     REAL CHECK (ice_x_m BETWEEN -200 AND 200),
    ice_y_m     REAL CHECK (ice_y_m BETWEEN -200 AND 200),
    took_s      REAL CHECK (took_s BETWEEN 0 AND 86400),
    advised_from_m REAL CHECK (advised_from_m BETWEEN 0 AND 200),
    advised_to_m REAL CHECK (advised_to_m BETWEEN 0 AND 200),
    verdict     TEXT CHECK (verdict IN ('right_depth', 'over_challenged', 'too_far_out', 'sat_back', 'off_angle', 'beaten_across', 'off_the_post', 'not_judged')),
    CONSTRAINT a_stretch_has_two_ends CHECK ((advised_from_m IS NULL) = (advised_to_m IS NULL)),
    CONSTRAINT an_ice_position_has_two_numbers CHECK ((ice_x_m IS NULL) = (ice_y_m IS NULL))
) STRICT;

INSERT INTO answer_2 (id, moment_id, goalie_id, answered_at, read, ice_x_m, ice_y_m, took_s, advised_from_m, advised_to_m, verdict)
SELECT id, moment_id, goalie_id, answered_at, read, ice_x_m, ice_y_m, took_s, advised_depth_m, advised_depth_m,
       CASE verdict WHEN 'right_read' THEN 'right_depth' WHEN 'late' THEN 'off_angle' ELSE verdict END
  FROM answer;
DROP TABLE answer;
ALTER TABLE answer_2 RENAME TO answer;
CREATE INDEX answer_by_moment ON answer (moment_id);
CREATE INDEX answer_by_goalie ON answer (goalie_id);

CREATE TABLE parameter_2 (
    key   TEXT PRIMARY KEY NOT NULL CHECK (length(key) BETWEEN 1 AND 50),
    value REAL NOT NULL CHECK (value BETWEEN -1000 AND 1000),
    unit  TEXT NOT NULL CHECK (unit IN ('m', 's', 'm/s', 'share'))
) STRICT;
-- A tolerance that was never changed follows the new edition; what it no longer knows goes, what is new is
-- the level's until it is put.
INSERT INTO parameter_2 (key, value, unit)
SELECT key, value, unit FROM parameter
 WHERE key NOT GLOB 'cap_*' AND NOT (key = 'depth_tolerance_m' AND value = 0.3);
DROP TABLE parameter;
ALTER TABLE parameter_2 RENAME TO parameter;

DELETE FROM change_step;
DELETE FROM change;

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

PRAGMA user_version = 2;
