// Shots that count alike, together: one pass over the narrow table counted_shot, which keeps nothing of a single shot.
#include "season/counted_rows.h"
#include "season/detail_rows.h"
#include "season/raw_statement.h"
#include "season/season_insides.h"

#include <unordered_map>
#include <unordered_set>

namespace ropeline {
namespace {

struct HashText {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
};
template <class T>
using ByText = std::unordered_map<std::string, T, HashText, std::equal_to<>>;

/// The words of counts_as one after the other; what it does not know throws SeasonError::damaged.
class NextWord {
public:
    explicit NextWord(std::string_view text) : text_(text), rest_(text) {}

    std::string_view next() {
        const std::size_t end = std::min(rest_.find(' '), rest_.size());
        const std::string_view word = rest_.substr(0, end);
        rest_.remove_prefix(std::min(end + 1, rest_.size()));
        if (word.empty()) refuse();
        return word;
    }

    template <class Enum>
    std::optional<Enum> of() {
        const std::string_view word = next();
        if (word == "-") return std::nullopt;
        if (const auto value = from_key<Enum>(word)) return value;
        refuse();
    }

    int choice(Detail detail) {
        const std::string_view word = next();
        return word == "-" ? 0 : choice_of(fact_of(detail), word);
    }

    int step() {
        const std::string_view word = next();
        if (word == "-") return -1;
        if (word.size() != 1 || word < "0" || word > "2") refuse();
        return word.front() - '0';
    }

    void end() const {
        if (!rest_.empty()) refuse();
    }

private:
    [[noreturn]] void refuse() const { Row::unknown_word("counts_as", std::string{text_}); }
    std::string_view text_, rest_;
};

CountedPlay play_of(std::string_view counts_as) {
    NextWord word{counts_as};
    CountedPlay play;
    play.outcome = word.of<Outcome>();
    play.came = word.of<NextAction>();
    play.released = word.choice(Detail::released);
    play.read = word.of<Read>();
    play.situation = word.of<Situation>();
    play.distance_step = word.step();
    play.band = word.of<Band>();
    play.verdict = word.of<Verdict>();
    play.overruled = word.of<Verdict>();
    const auto pass_band = word.of<Band>();
    const auto pass_verdict = word.of<Verdict>(), pass_overruled = word.of<Verdict>();
    word.end();
    if (pass_band) play.pass = {*pass_band, pass_verdict, pass_overruled};
    return play;
}

class Counting {
public:
    Counting(SQLite::Database& db, const CountedOnly& only) : only_(only) {
        RawStatement goalie{db, "SELECT goalie.id, goalie.name, team.name FROM goalie "
                                "LEFT JOIN team ON team.id = goalie.team_id"};
        while (goalie.step())
            people_.emplace(goalie.text(0), CountedGoalie{Id{goalie.text(0)}, std::string{goalie.text(1)},
                                                          std::string{goalie.text(2)}});
        if (!only_.day) return;
        RawStatement game{db, "SELECT id, date FROM game"};
        while (game.step())
            if (!only_.day(game.text(1))) left_out_games_.emplace(game.text(0));
    }

    CountedShots of(RawStatement& shot) {
        while (shot.step()) {
            look_at_game(shot.text(0));
            if (!game_wanted_) continue;
            look_at_goalie(shot.text(1));
            count(shot.text(2));
        }
        std::erase_if(made_.rows, [](const CountedShots::Row& row) { return row.times == 0; });
        made_.games = static_cast<int>(games_.size());
        return std::move(made_);
    }

private:
    // Shots of a game, and so of a goalie, mostly follow each other.
    void look_at_game(std::string_view id) {
        if (id == game_) return;
        game_ = id;
        game_counted_ = false;
        game_wanted_ = left_out_games_.empty() || !left_out_games_.contains(game_);
    }

    void look_at_goalie(std::string_view id) {
        if (!made_.goalies.empty() && made_.goalies[goalie_].id == id) return;
        const auto known = goalies_.find(id);
        if (known != goalies_.end()) {
            goalie_ = known->second;
            return;
        }
        goalie_ = made_.goalies.size();
        goalies_.emplace(id, goalie_);
        const auto person = people_.find(id);
        made_.goalies.push_back(person == people_.end() ? CountedGoalie{Id{id}, {}, {}} : person->second);
    }

    void count(std::string_view counts_as) {
        auto kind = kinds_.find(counts_as);
        if (kind == kinds_.end())
            kind = kinds_.emplace(counts_as, Kind{kinds_.size(), play_of(counts_as)}).first;
        const auto key = (static_cast<std::uint64_t>(goalie_) << 32U) | kind->second.number;
        const auto [place, is_new] = places_.try_emplace(key, made_.rows.size());
        if (is_new) {
            const CountedPlay& play = kind->second.play;
            const bool wanted = !only_.shot || only_.shot(made_.goalies[goalie_], play);
            if (!wanted) place->second = unwanted;
            if (wanted) made_.rows.push_back({goalie_, play, 0});
        }
        if (place->second == unwanted) return;
        ++made_.rows[place->second].times;
        ++made_.shots;
        if (!game_counted_) games_.emplace(game_);
        game_counted_ = true;
    }

    struct Kind {
        std::size_t number;
        CountedPlay play;
    };
    static constexpr std::size_t unwanted = static_cast<std::size_t>(-1);

    const CountedOnly& only_;
    CountedShots made_;
    ByText<CountedGoalie> people_;
    ByText<std::size_t> goalies_;
    ByText<Kind> kinds_;
    std::unordered_map<std::uint64_t, std::size_t> places_; ///< of goalie and kind, in the rows
    std::unordered_set<std::string> left_out_games_, games_;
    std::string game_;
    bool game_wanted_ = false, game_counted_ = false;
    std::size_t goalie_ = 0;
};

} // namespace

CountedShots SeasonFile::counted_shots(const CountedOnly& only) const {
    return insides_->read([&](SQLite::Database& db) {
        const OneState state{db};
        RawStatement shot{db, counted_rows(db)};
        return Counting{db, only}.of(shot);
    });
}

} // namespace ropeline
