-- What `ropeline publish` makes on a PostgreSQL server (15 or newer) besides the tables: those have the names and columns of the
-- season file, and two more, season_id (whose season) and of_teams (whose clubs the row is about). README.md says how a club
-- gives its coaches leave to read. The program runs this text; it may be run twice.

CREATE SCHEMA IF NOT EXISTS ropeline;

-- Which database role may read what is about which team, by the team's name. Publishing never touches it.
CREATE TABLE IF NOT EXISTS ropeline.team_reader (
    reader text COLLATE "C" NOT NULL,
    team   text COLLATE "C" NOT NULL,
    PRIMARY KEY (reader, team)
);

-- Whether whoever asks is that role or a member of it; a role that was dropped is nobody.
CREATE OR REPLACE FUNCTION ropeline.is_reader(reader text) RETURNS boolean LANGUAGE sql STABLE AS
$$ SELECT CASE WHEN to_regrole(quote_ident(reader)) IS NULL THEN false ELSE pg_has_role(reader::name, 'member') END $$;

ALTER TABLE ropeline.team_reader ENABLE ROW LEVEL SECURITY;
DROP POLICY IF EXISTS own_rows ON ropeline.team_reader;
CREATE POLICY own_rows ON ropeline.team_reader FOR SELECT USING (ropeline.is_reader(reader));

--tables

CREATE INDEX IF NOT EXISTS shot_by_goalie ON ropeline.shot (season_id, goalie_id);
CREATE INDEX IF NOT EXISTS moment_by_shot ON ropeline.moment (season_id, shot_id);
CREATE INDEX IF NOT EXISTS mark_by_moment ON ropeline.mark (season_id, moment_id);
CREATE INDEX IF NOT EXISTS tag_by_shot ON ropeline.tag (season_id, shot_id);

-- The season file's view of that name, column by column, and whose season it is. It reads with the rights of whoever asks.
CREATE OR REPLACE VIEW ropeline.shot_facts WITH (security_invoker = true) AS
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
       (shot.outcome IN ('goal', 'save_held', 'save_rebound'))::int::bigint AS on_goal,
       (shot.outcome IN ('save_held', 'save_rebound'))::int::bigint AS saved,
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
       left(shot.numbers, 1)::bigint AS attackers,
       right(shot.numbers, 1)::bigint AS defenders,
       shot.rebound_shot_id,
       shot.shooter_number,
       shot.drill,
       shot.tagged_by,
       (SELECT string_agg(tag.word, ', ' ORDER BY tag.word) FROM ropeline.tag
         WHERE tag.season_id = shot.season_id AND tag.shot_id = shot.id) AS tags,
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
       CASE WHEN places.skates = 2 THEN places.skates_x_m ELSE places.single_x_m END AS goalie_x_m,
       CASE WHEN places.skates = 2 THEN places.skates_y_m ELSE places.single_y_m END AS goalie_y_m,
       places.puck_x_m,
       places.puck_y_m,
       coalesce((moment.feet = 'set')::int::bigint, moment.standing_still) AS standing_still,
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
       places.threats,
       (SELECT min(threat.spare_s - threat.late_s)
          FROM ropeline.mark JOIN ropeline.threat ON threat.season_id = mark.season_id AND threat.mark_id = mark.id
         WHERE mark.season_id = shot.season_id AND mark.moment_id = moment.id) AS least_spare_s,
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
       (SELECT min(threat.spare_s - threat.late_s)
          FROM ropeline.mark JOIN ropeline.threat ON threat.season_id = mark.season_id AND threat.mark_id = mark.id
         WHERE mark.season_id = shot.season_id AND mark.moment_id = passed.id) AS pass_least_spare_s,
       passed.verdict AS pass_verdict,
       passed.firm AS pass_firm,
       passed.overruled AS pass_overruled,
       passed.overrule_reason AS pass_overrule_reason,
       coalesce(passed.overruled, passed.verdict) AS pass_final_verdict,
       shot.note,
       shot.season_id
  FROM ropeline.shot
  JOIN ropeline.game ON game.season_id = shot.season_id AND game.id = shot.game_id
  LEFT JOIN ropeline.team AS home ON home.season_id = shot.season_id AND home.id = game.home_team_id
  LEFT JOIN ropeline.team AS away ON away.season_id = shot.season_id AND away.id = game.away_team_id
  LEFT JOIN ropeline.goalie ON goalie.season_id = shot.season_id AND goalie.id = shot.goalie_id
  LEFT JOIN ropeline.team ON team.season_id = shot.season_id AND team.id = goalie.team_id
  LEFT JOIN LATERAL (SELECT candidate.*
                       FROM ropeline.moment AS candidate
                      WHERE candidate.season_id = shot.season_id AND candidate.shot_id = shot.id
                        AND candidate.depth_m IS NOT NULL AND candidate.same_as IS NULL
                      ORDER BY (candidate.kind = 'release') DESC, candidate.ordinal DESC, candidate.id DESC
                      LIMIT 1) AS moment ON true
  LEFT JOIN LATERAL (SELECT candidate.*
                       FROM ropeline.moment AS candidate
                      WHERE candidate.season_id = shot.season_id AND candidate.shot_id = shot.id
                        AND candidate.kind = 'pass' AND candidate.depth_m IS NOT NULL
                        AND candidate.id <> moment.id AND candidate.same_as IS NULL
                      ORDER BY candidate.ordinal DESC, candidate.id DESC
                      LIMIT 1) AS passed ON true
  LEFT JOIN LATERAL (SELECT mark.ice_x_m, mark.ice_y_m
                       FROM ropeline.moment AS candidate
                       JOIN ropeline.mark ON mark.season_id = candidate.season_id AND mark.moment_id = candidate.id
                       JOIN ropeline.threat ON threat.season_id = mark.season_id AND threat.mark_id = mark.id
                      WHERE candidate.season_id = shot.season_id AND candidate.shot_id = shot.id
                        AND threat.took = 1 AND candidate.same_as IS NULL
                      ORDER BY candidate.ordinal DESC, candidate.id DESC
                      LIMIT 1) AS taker ON true
  CROSS JOIN LATERAL (SELECT count(ice_x_m) FILTER (WHERE kind IN ('skate_left', 'skate_right')) AS skates,
                             avg(ice_x_m) FILTER (WHERE kind IN ('skate_left', 'skate_right')) AS skates_x_m,
                             avg(ice_y_m) FILTER (WHERE kind IN ('skate_left', 'skate_right')) AS skates_y_m,
                             avg(ice_x_m) FILTER (WHERE kind = 'goalie') AS single_x_m,
                             avg(ice_y_m) FILTER (WHERE kind = 'goalie') AS single_y_m,
                             min(ice_x_m) FILTER (WHERE kind = 'puck') AS puck_x_m,
                             min(ice_y_m) FILTER (WHERE kind = 'puck') AS puck_y_m,
                             count(*) FILTER (WHERE kind = 'threat') AS threats
                        FROM ropeline.mark
                       WHERE mark.season_id = shot.season_id AND mark.moment_id = moment.id) AS places;
