// The rows of a season file as plain structs. Column docs and units: schema/README.md.
// An id is a UUIDv7 in text; an empty id means "not stored yet". Absent values are std::optional here and
// NULL there.
#pragma once

#include "camera/image_point.h"
#include "camera/rink_fit.h"
#include "depth/cues.h"
#include "depth/firmness.h"
#include "depth/parameters.h"
#include "depth/reading.h"
#include "depth/sequence.h"
#include "depth/verdict.h"
#include "rink/ice_point.h"
#include "rink/rule_book.h"
#include "season/carried_frames.h"
#include "season/details.h"
#include "season/words.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

using Id = std::string;

struct Season {
    Id id;
    std::string name, league;
    RuleBookId rules = RuleBookId::nhl;
    Level level = Level::senior;
    std::string reviewer;  ///< who tags the shots logged from now on
    Parameters parameters; ///< the values in force, copied into the file at creation
};

struct Team {
    Id id;
    std::string name;
};

struct Goalie {
    Id id, team_id;
    std::string name;
    std::string catches; ///< "left" or "right" hand, or empty
    /// His own, where they are known; else the season's figures.
    std::optional<double> height_m{}, blocking_width_m{}, lateral_speed_mps{};
};

struct Game {
    Id id;
    std::string date; ///< ISO 8601: 2026-11-25
    Id home_team_id, away_team_id;
    RuleBookId rules = RuleBookId::nhl;
    std::string note;
};

struct Film {
    Id id, game_id;
    std::string path;
    std::int64_t bytes = 0;
    std::string fingerprint;
    ImageSize shown; ///< displayed size: marks are in these pixels
    std::int64_t frame_count = 0;
    std::optional<double> first_s{}, last_s{}; ///< of its first and last frame, stream time
};

/// The frame index of a film, in the film module's own form.
struct StoredFilmIndex {
    Id film_id;
    std::string fingerprint; ///< of the film it was made from
    std::string library;     ///< name and version of what made it
    std::vector<std::byte> frames;
};

/// What lies where along a film, in the form of src/chances.
struct StoredFilmMarks {
    Id film_id;
    std::string fingerprint; ///< of the film they were found in
    std::vector<std::byte> marks;
};

/// What the coach read off the game clock at one frame of a film; see season/game_clock.h.
struct ClockMark {
    Id id, film_id;
    std::int64_t frame = 0, pts_ticks = 0;
    double film_s = 0.0; ///< pts in seconds, stream time
    int period = 1;
    double clock_s = 0.0; ///< seconds left in the period
    bool running = true;  ///< false: the clock stands from here until the next mark (a whistle)
};

/// A stretch of film that a clicked fit was carried along: one entry a frame, from `first_frame` on.
struct StoredCarry {
    Id rink_fit_id;
    std::int64_t first_frame = 0;
    CarriedFrames frames;

    std::int64_t last_frame() const { return first_frame + static_cast<std::int64_t>(frames.size()) - 1; }
    bool has(std::int64_t frame) const { return frame >= first_frame && frame <= last_frame(); }
    CarriedFrame at(std::int64_t frame) const {
        return frames[static_cast<std::size_t>(frame - first_frame)];
    }
};

/// One click of a rink fit: on the landmark of that name, or anywhere on the painted curve of that name.
struct StoredLandmark {
    std::string name;
    ImagePoint at;
    std::optional<IcePoint> point; ///< the landmark's; none on a curve
};

/// A fitted rink at one frame of a film. It holds from its frame to the next clicked fit of that film; one
/// that was carried there from a clicked fit holds for its own frame only.
struct StoredFit {
    Id id, film_id;
    Id carried_from; ///< the clicked fit it was carried from; empty: clicked
    std::int64_t frame = 0, pts_ticks = 0;
    RuleBookId rules = RuleBookId::nhl;
    std::vector<StoredLandmark> landmarks; ///< kept as marks
    RinkFit fit;                           ///< residuals and warnings are recomputed, not stored
};

struct Shot {
    Id id, game_id, goalie_id, film_id;
    std::int64_t frame = 0, pts_ticks = 0; ///< where it sits on the ribbon
    double film_s = 0.0;                   ///< pts in seconds, stream time
    std::optional<int> period;
    std::optional<double> clock_s; ///< game clock: seconds left in the period
    bool clock_from_marks = false; ///< both follow the film's clock marks; else they were typed
    bool far_net = false;          ///< the goalie defends the net at the other end of the rink fit
    std::optional<Read> read;
    std::optional<NextAction> came;
    std::optional<Situation> situation;
    std::optional<Strength> strength;
    std::optional<Outcome> outcome;
    std::string note;
    Details details;                   ///< what a season asks for besides
    Id rebound_shot_id;                ///< the shot that its rebound led to
    std::optional<int> shooter_number; ///< on his back
    std::string drill;                 ///< to assign
    std::string tagged_by;             ///< who logged it
    std::vector<std::string> tags;     ///< the coach's own words, in order
    std::string tagged_at{};           ///< when, UTC, ISO 8601; put() fills it in
};

struct Mark {
    Id id;
    MarkKind kind{};
    std::optional<ImagePoint> at; ///< none when the position came from elsewhere (a demo season, an import)
    std::optional<IcePoint> ice;  ///< none until a fit is there
    std::optional<IceCovariance> sigma;         ///< of `ice`
    ReceiverKind receiver = ReceiverKind::stop; ///< of a threat: shoots at once, stops it, tips it
    Lane lane = Lane::open;                     ///< of the pass to it
    bool took = false;                          ///< it got the pass; one a moment at most
    std::optional<ThreatReading> pass{};        ///< derived: what a pass to it would cost
};

/// What the model says of a moment's decision.
struct Judgement {
    Verdict verdict{};
    bool on_post = false;
    std::optional<Advice> advice; ///< none on the post
    /// How far beyond the advised stretch: further out is positive, deeper negative, within it 0.
    std::optional<double> depth_error_m;
    double shot_open = 0.0, net_left = 0.0; ///< from where the goalie stood
    std::optional<OnWhatCame> on_what_came;
    std::optional<Firmness> firmness; ///< none until it was worked out: it takes its time
};
std::optional<double> gave_away(const Judgement& judgement); ///< net left less the best spot's

struct Moment {
    Id id, shot_id;
    int ordinal = 0;
    MomentKind kind = MomentKind::release;
    Id film_id, rink_fit_id;
    Id same_as; ///< the moment of the play that a second camera saw here; empty: a step of the play itself
    std::int64_t frame = 0, pts_ticks = 0;
    std::vector<Mark> marks;
    std::optional<Reading> reading; ///< derived; recomputed whenever a mark or a parameter changes
    std::optional<double> depth_sigma_m;
    std::optional<double> band_odds_of_band; ///< chance of the shown band
    std::vector<Cue> cues;                   ///< what the carrier's body says
    std::optional<bool> set;                 ///< standing still at a release, derived from an earlier moment
    std::optional<AngleBeforeDepth> order;   ///< over this moment and the two before it, derived
    std::optional<Judgement> judgement;      ///< derived, with the reading
    std::optional<Verdict> overruled;        ///< the reviewer's, beside the model's
    std::string overrule_reason;
    Details details; ///< sight, feet, on the post
    int model_version = depth_model_version;
    /// Who overruled it and when (UTC, ISO 8601); put() fills both in where the overruling is another than the stored one.
    std::string overruled_by{}, overruled_at{};
};

inline std::optional<Verdict> model_verdict(const Moment& moment) {
    return moment.judgement ? std::optional{moment.judgement->verdict} : std::nullopt;
}

/// What a goalie answered in Study: the call, and where to stand; and what that was worth as things stood then.
struct Answer {
    Id id, moment_id, goalie_id; ///< the goalie whose shot it is
    std::string answered_at;     ///< UTC, ISO 8601: 2026-11-25T14:03:00Z
    std::optional<Read> read;
    std::optional<IcePoint> ice;
    std::optional<double> took_s; ///< from the film's stop to the place
    /// What the model said of that moment when it was answered; put() fills them in where they are empty.
    std::optional<double> advised_from_m, advised_to_m;
    std::optional<Verdict> verdict;
    std::string answered_by{}; ///< who answered, a name; empty: not said
    std::optional<Sureness> sure{};
    std::optional<bool> call_right{}; ///< none: neither a shot nor a pass came, or that is not known
    std::optional<double>
        gave_away{}; ///< share of the net left from his place beyond that of the best; none on the post
    std::optional<bool>
        place_right{}; ///< it gave away no more than is worth acting on; on the post: he is there
    std::string
        due_on{}; ///< the day the decision comes back for whoever answered, "2026-11-28"; empty: it does not
};

/// One row a shot, as the view shot_facts gives it: what tally and charts read.
struct ShotFact {
    Id shot_id, game_id, goalie_id, film_id;
    std::string game_date, home_team, away_team, goalie, team;
    std::optional<int> period;
    std::optional<double> clock_s;
    std::int64_t frame = 0;
    double film_s = 0.0;
    std::optional<Read> read;
    std::optional<NextAction> came;
    std::optional<Situation> situation;
    std::optional<Strength> strength;
    std::optional<Outcome> outcome;
    Id moment_id;                          ///< that the figures are of; empty without a depth
    std::optional<MomentKind> moment_kind; ///< of that moment
    std::optional<double> depth_m, depth_sigma_m, off_angle_m, crease_edge_m, clearance_m;
    std::optional<Band> band;
    std::optional<double> band_odds, square_error_rad, net_angle_rad, coverage, net_seen, reaction_s;
    std::optional<IcePoint> goalie_at, puck_at;
    std::optional<bool> set, angle_first;
    std::optional<bool> on_post;
    std::optional<double> advised_from_m, advised_to_m, advised_best_m, depth_error_m;
    std::optional<Limit> advised_limit;
    std::optional<double> shot_open, net_left, net_left_best, gave_away, came_open, came_open_best;
    int threats = 0;                           ///< marked at that moment
    std::optional<double> least_spare_s;       ///< of the passes marked there: time to spare; negative: late
    std::optional<Verdict> verdict, overruled; ///< the model's; the reviewer's
    std::optional<double> firm;
    std::string turns_on; ///< what turns the verdict most often
    std::string overrule_reason;
    /// The decision when the pass was made, in a play that has a moment of a pass besides the one above.
    struct PassFact {
        Id moment_id;
        double depth_m = 0.0, clearance_m = 0.0;
        Band band{};
        std::optional<double> advised_from_m, advised_to_m, depth_error_m, gave_away, came_open,
            came_open_best, least_spare_s, firm;
        std::optional<Verdict> verdict, overruled;
        std::string overrule_reason;

        bool operator==(const PassFact&) const = default;
    };
    std::optional<PassFact> pass;
    std::string note;
    Details details; ///< of the shot, and of the moment above
    Id rebound_shot_id;
    std::optional<int> shooter_number;
    std::string drill, tagged_by, tags;
    std::optional<IcePoint> took_at; ///< who got the pass, at the last moment that says it

    bool operator==(const ShotFact&) const = default;
};

} // namespace ropeline
