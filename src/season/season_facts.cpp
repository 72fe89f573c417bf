// The facts of every shot at once: what the view shot_facts says, but each table is gone through once instead of being
// asked a dozen times for each shot. A test holds it to the view.
#include "season/fact_columns.h"
#include "season/season_insides.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <unordered_map>

namespace ropeline {
namespace {

constexpr std::size_t nobody = static_cast<std::size_t>(-1);

/// Keys look into the ids of the facts and steps, which stay where they are.
using Places = std::unordered_map<std::string_view, std::size_t>;

std::size_t find(const Places& places, std::string_view id) {
    const auto found = places.find(id);
    return found == places.end() ? nobody : found->second;
}

/// A moment that is a step of its play.
struct Step {
    Id id;
    std::size_t shot = nobody;
    std::int64_t ordinal = 0;
    bool is_release = false, is_pass = false, has_depth = false;
};

/// What the marks of a shot's moment say, as they come in.
struct MarkedPlaces {
    int skates = 0;
    IcePoint of_skates{}, of_goalie{};
    int goalies = 0;
    std::optional<std::int64_t> puck_ordinal;
};

struct ThreatMark {
    std::size_t step = nobody;
    std::optional<IcePoint> at;
};

class FactReader {
public:
    explicit FactReader(SQLite::Database& db) : db_(db) {}

    std::vector<ShotFact> read() {
        place_shots();
        read_shots();
        read_tags();
        read_steps();
        choose_steps();
        read_figures();
        read_marks();
        read_threats();
        return std::move(facts_);
    }

private:
    void place_shots();
    void read_shots();
    void read_tags();
    void read_steps();
    void choose_steps();
    void read_figures();
    void read_marks();
    void read_mark(const RawStatement& mark, std::size_t step);
    void read_threats();
    void name(ShotFact& fact) const;

    SQLite::Database& db_;
    std::vector<ShotFact> facts_;
    std::vector<std::size_t> place_of_row_; ///< of the shots in the order of the file; nobody: of no game
    Places shots_, steps_of_id_;
    std::vector<Step> steps_;                        ///< in the order of the file
    std::vector<std::size_t> main_, passed_, taker_; ///< by shot: which step
    std::vector<MarkedPlaces> marked_;               ///< by shot
    std::unordered_map<std::string, ThreatMark> threats_;

    struct GameNames {
        std::string date, home, away;
    };
    struct GoalieNames {
        std::string name, team;
    };
    std::unordered_map<Id, GameNames> games_;
    std::unordered_map<Id, GoalieNames> goalies_;
};

// In the order of shot_facts(): by day, game, film, frame, shot.
void FactReader::place_shots() {
    std::unordered_map<std::string, std::size_t> game_ranks;
    RawStatement game{db_,
                      "SELECT game.id, game.date, home.name, away.name FROM game "
                      "LEFT JOIN team AS home ON home.id = game.home_team_id "
                      "LEFT JOIN team AS away ON away.id = game.away_team_id ORDER BY game.date, game.id"};
    while (game.step()) {
        const Id id{game.text(0)};
        game_ranks.emplace(id, game_ranks.size());
        games_.emplace(
            id, GameNames{std::string{game.text(1)}, std::string{game.text(2)}, std::string{game.text(3)}});
    }
    struct ToPlace {
        std::size_t game_rank, row;
        std::string film_id, id;
        std::int64_t frame;
    };
    std::vector<ToPlace> shots;
    RawStatement shot{db_, "SELECT id, game_id, film_id, frame FROM shot ORDER BY rowid"};
    std::size_t row = 0;
    for (; shot.step(); ++row) {
        const auto game_rank = game_ranks.find(std::string{shot.text(1)});
        if (game_rank != game_ranks.end())
            shots.push_back({game_rank->second, row, std::string{shot.text(2)}, std::string{shot.text(0)},
                             shot.integer(3)});
    }
    std::ranges::sort(shots, [](const ToPlace& a, const ToPlace& b) {
        return std::tie(a.game_rank, a.film_id, a.frame, a.id) <
               std::tie(b.game_rank, b.film_id, b.frame, b.id);
    });
    place_of_row_.assign(row, nobody);
    for (std::size_t place = 0; place < shots.size(); ++place)
        place_of_row_[shots[place].row] = place;
    facts_.resize(shots.size());
}

void FactReader::name(ShotFact& fact) const {
    const GameNames& game = games_.at(fact.game_id);
    fact.game_date = game.date;
    fact.home_team = game.home;
    fact.away_team = game.away;
    const auto goalie = goalies_.find(fact.goalie_id);
    if (goalie == goalies_.end()) return;
    fact.goalie = goalie->second.name;
    fact.team = goalie->second.team;
}

void FactReader::read_shots() {
    RawStatement goalie{
        db_,
        "SELECT goalie.id, goalie.name, team.name FROM goalie LEFT JOIN team ON team.id = goalie.team_id"};
    while (goalie.step())
        goalies_.emplace(goalie.text(0),
                         GoalieNames{std::string{goalie.text(1)}, std::string{goalie.text(2)}});
    shots_.reserve(facts_.size());
    RawStatement shot{db_, "SELECT " + shot_columns() + " FROM shot ORDER BY rowid"};
    for (std::size_t row = 0; shot.step(); ++row) {
        const std::size_t place = place_of_row_[row];
        if (place == nobody) continue;
        ShotFact& fact = facts_[place];
        NextColumn next{shot};
        read_shot_columns(next, fact);
        name(fact);
        shots_.emplace(fact.shot_id, place);
    }
}

void FactReader::read_tags() {
    RawStatement tag{db_, "SELECT shot_id, word FROM tag ORDER BY shot_id, word"};
    while (tag.step()) {
        const std::size_t shot = find(shots_, tag.text(0));
        if (shot == nobody) continue;
        std::string& tags = facts_[shot].tags;
        if (!tags.empty()) tags += ", ";
        tags += tag.text(1);
    }
}

void FactReader::read_steps() {
    steps_.reserve(facts_.size() * 2);
    RawStatement moment{
        db_, "SELECT id, shot_id, ordinal, kind, depth_m IS NOT NULL FROM moment WHERE same_as IS NULL "
             "ORDER BY rowid"};
    while (moment.step()) {
        const std::string_view kind = moment.text(3);
        steps_.push_back({Id{moment.text(0)}, find(shots_, moment.text(1)), moment.integer(2),
                          kind == "release", kind == "pass", moment.integer(4) != 0});
    }
    steps_of_id_.reserve(steps_.size());
    for (std::size_t i = 0; i < steps_.size(); ++i)
        steps_of_id_.emplace(steps_[i].id, i);
}

void FactReader::choose_steps() {
    for (auto* of_shot : {&main_, &passed_, &taker_})
        of_shot->assign(facts_.size(), nobody);
    marked_.resize(facts_.size());
    const auto later = [&](const Step& a, const Step& b) {
        return std::tie(a.ordinal, a.id) > std::tie(b.ordinal, b.id);
    };
    for (std::size_t i = 0; i < steps_.size(); ++i) {
        const Step& step = steps_[i];
        if (step.shot == nobody || !step.has_depth) continue;
        std::size_t& main = main_[step.shot];
        const bool better = main == nobody || step.is_release > steps_[main].is_release ||
                            (step.is_release == steps_[main].is_release && later(step, steps_[main]));
        if (better) main = i;
    }
    for (std::size_t i = 0; i < steps_.size(); ++i) {
        const Step& step = steps_[i];
        if (step.shot == nobody || !step.has_depth || !step.is_pass || main_[step.shot] == i) continue;
        std::size_t& passed = passed_[step.shot];
        if (passed == nobody || later(step, steps_[passed])) passed = i;
    }
}

void FactReader::read_figures() {
    RawStatement moment{db_,
                        "SELECT " + moment_columns() + " FROM moment WHERE same_as IS NULL ORDER BY rowid"};
    for (std::size_t i = 0; moment.step(); ++i) {
        const Step& step = steps_[i];
        if (step.shot == nobody) continue;
        ShotFact& fact = facts_[step.shot];
        NextColumn next{moment};
        if (main_[step.shot] == i) {
            read_moment_columns(next, fact);
            fact.moment_id = step.id;
        } else if (passed_[step.shot] == i) {
            ShotFact::PassFact& pass = fact.pass.emplace();
            read_pass_columns(next, pass);
            pass.moment_id = step.id;
        }
    }
}

void FactReader::read_mark(const RawStatement& mark, std::size_t step) {
    const std::string_view kind = mark.text(1);
    const std::optional<IcePoint> at =
        mark.is_null(2) ? std::nullopt : std::optional{IcePoint{mark.real(2), mark.real(3)}};
    if (kind == "threat") threats_.emplace(mark.text(4), ThreatMark{step, at});
    const std::size_t shot = steps_[step].shot;
    if (shot == nobody || main_[shot] != step) return;
    MarkedPlaces& marked = marked_[shot];
    if (kind == "threat") {
        ++facts_[shot].threats;
    } else if (kind == "puck") {
        const std::int64_t ordinal = mark.integer(5);
        if (marked.puck_ordinal && *marked.puck_ordinal <= ordinal) return;
        marked.puck_ordinal = ordinal;
        facts_[shot].puck_at = at;
    } else if (at && kind == "goalie") {
        ++marked.goalies;
        marked.of_goalie = marked.of_goalie + *at;
    } else if (at) {
        ++marked.skates;
        marked.of_skates = marked.of_skates + *at;
    }
}

void FactReader::read_marks() {
    RawStatement mark{
        db_, "SELECT moment_id, kind, ice_x_m, ice_y_m, id, ordinal FROM mark WHERE moment_id IS NOT NULL"};
    std::size_t step = nobody;
    while (mark.step()) {
        const std::string_view moment_id = mark.text(0); // marks of one moment mostly follow each other
        if (step == nobody || steps_[step].id != moment_id) step = find(steps_of_id_, moment_id);
        if (step != nobody) read_mark(mark, step);
    }
    for (std::size_t shot = 0; shot < facts_.size(); ++shot) {
        const MarkedPlaces& marked = marked_[shot];
        const bool by_skates = marked.skates == 2;
        const int count = by_skates ? 2 : marked.goalies;
        const IcePoint& sum = by_skates ? marked.of_skates : marked.of_goalie;
        if (count > 0) facts_[shot].goalie_at = IcePoint{sum.x_m / count, sum.y_m / count};
    }
}

void FactReader::read_threats() {
    RawStatement threat{db_, "SELECT mark_id, took, spare_s, late_s FROM threat"};
    const auto keep_least = [](std::optional<double>& least, double spare_s) {
        if (!least || spare_s < *least) least = spare_s;
    };
    while (threat.step()) {
        const auto mark = threats_.find(std::string{threat.text(0)});
        if (mark == threats_.end()) continue;
        const Step& step = steps_[mark->second.step];
        if (step.shot == nobody) continue;
        ShotFact& fact = facts_[step.shot];
        if (!threat.is_null(2) && !threat.is_null(3)) {
            const double spare_s = threat.real(2) - threat.real(3);
            if (main_[step.shot] == mark->second.step) keep_least(fact.least_spare_s, spare_s);
            if (passed_[step.shot] == mark->second.step) keep_least(fact.pass->least_spare_s, spare_s);
        }
        std::size_t& taker = taker_[step.shot];
        if (threat.integer(1) == 0) continue;
        if (taker != nobody &&
            std::tie(steps_[taker].ordinal, steps_[taker].id) >= std::tie(step.ordinal, step.id))
            continue;
        taker = mark->second.step;
        fact.took_at = mark->second.at;
    }
}

} // namespace

std::vector<ShotFact> SeasonFile::shot_facts() const {
    return insides_->read([](SQLite::Database& db) {
        const OneState state{db};
        return FactReader{db}.read();
    });
}

} // namespace ropeline
