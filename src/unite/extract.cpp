#include "unite/extract.h"

#include "season/game_clock.h"
#include "season/sql.h"
#include "unite/film_clips.h"
#include "unite/made_beside.h"
#include "unite/other_names.h"

#include <algorithm>
#include <set>

namespace ropeline {
namespace {

struct Plays {
    std::vector<LoggedPlay> own, others;
    std::vector<Game> games; ///< with shots of the goalie
};

Plays plays_of(const SeasonFile& season, const Id& goalie_id) {
    Plays plays;
    for (const Game& game : season.games()) {
        const std::size_t before = plays.own.size();
        for (Shot& shot : season.shots(game.id)) {
            auto& list = shot.goalie_id == goalie_id ? plays.own : plays.others;
            auto moments = season.moments(shot.id);
            list.push_back({std::move(shot), std::move(moments)});
        }
        if (plays.own.size() > before) plays.games.push_back(game);
    }
    return plays;
}

/// Writes the goalie's records into the new season, with their places on the clips.
class ExtractWriter {
public:
    ExtractWriter(const SeasonFile& from, SeasonFile& into, const Goalie& goalie, const OtherNames& others,
                  CutFilms& clips, const ExtractOptions& options)
        : from_(from), into_(into), goalie_(goalie), others_(others), clips_(clips), options_(options) {}

    void people(const std::vector<Game>& games) {
        std::set<Id> wanted{goalie_.team_id};
        for (const Game& game : games)
            wanted.insert({game.home_team_id, game.away_team_id});
        for (Team& team : from_.teams()) {
            if (!wanted.contains(team.id)) continue;
            clear_where_named(team.name);
            into_.put(team);
        }
        Goalie goalie = goalie_;
        into_.put(goalie);
        for (Game game : games) {
            note(game.note);
            into_.put(game);
        }
    }

    void films(const std::vector<LoggedPlay>& own) {
        for (auto& [film_id, clips] : clips_.by_film) {
            const auto fits = from_.rink_fits(film_id);
            const auto marks = from_.clock_marks(film_id);
            for (CutClip& clip : clips) {
                into_.put(clip.film);
                clock_marks(marks, clip);
                for (const LoggedPlay& play : own)
                    for (const Moment& moment : play.moments)
                        if (moment.film_id == film_id && clip.span.has(moment.frame)) fit(fits, moment, clip);
            }
        }
    }

    void plays(const std::vector<LoggedPlay>& own) {
        for (const LoggedPlay& play : own)
            shot_ids_.insert(play.shot.id);
        std::vector<Shot> with_rebound;
        for (const LoggedPlay& play : own) {
            Shot shot = moved(play.shot);
            const Id rebound = std::exchange(shot.rebound_shot_id, {});
            into_.put(shot);
            shot.rebound_shot_id = rebound;
            if (!rebound.empty() && shot_ids_.contains(rebound)) with_rebound.push_back(shot);
            // What a second camera saw leads to the step that it saw, which is put before it.
            for (const bool second : {false, true})
                for (const Moment& moment : play.moments)
                    if (moment.same_as.empty() != second) put(moment);
        }
        for (Shot& shot : with_rebound)
            into_.put(shot);
    }

    void answers() {
        for (Answer& answer : from_.answers()) {
            const bool by_another = !answer.answered_by.empty() && answer.answered_by != goalie_.name;
            if (!moment_ids_.contains(answer.moment_id) ||
                (by_another && others_.named_in(answer.answered_by)))
                continue;
            if (answer.goalie_id != goalie_.id) answer.goalie_id.clear();
            into_.put(answer);
        }
    }

    int texts_left_out() const { return texts_left_out_; }

private:
    void clear_where_named(std::string& text) {
        if (!others_.named_in(text)) return;
        text.clear();
        ++texts_left_out_;
    }

    void note(std::string& text) {
        if (!options_.notes) text.clear();
        clear_where_named(text);
    }

    Shot moved(const Shot& old) {
        Shot shot = old;
        note(shot.note);
        clear_where_named(shot.drill);
        clear_where_named(shot.tagged_by);
        std::erase_if(shot.tags, [&](std::string& tag) {
            clear_where_named(tag);
            return tag.empty();
        });
        const CutClip* clip = clips_.clip_with(old.film_id, old.frame);
        shot.film_id = clip ? clip->film.id : Id{};
        shot.frame = clip ? clip->frame_of(old.frame) : 0;
        if (!clip) {
            shot.clock_from_marks = false;
            return shot; // its times still say how long the goalie had
        }
        shot.pts_ticks = clip->pts[static_cast<std::size_t>(shot.frame)];
        shot.film_s = clip->seconds[static_cast<std::size_t>(shot.frame)];
        return shot;
    }

    void put(const Moment& old) {
        Moment moment = old;
        clear_where_named(moment.overrule_reason);
        clear_where_named(moment.overruled_by);
        const CutClip* clip = clips_.clip_with(old.film_id, old.frame);
        const auto fit = clip ? fits_.find({clip->film.id, old.rink_fit_id}) : fits_.end();
        moment.film_id = clip ? clip->film.id : Id{};
        moment.rink_fit_id = fit == fits_.end() ? Id{} : fit->second;
        if (clip) {
            moment.frame = clip->frame_of(old.frame);
            moment.pts_ticks = clip->pts[static_cast<std::size_t>(moment.frame)];
        }
        moment_ids_.insert(old.id);
        into_.put(moment);
    }

    /// The fit that a moment rests on, in its clip: at its own frame, or from the clip's first on where it lies before it.
    void fit(const std::vector<StoredFit>& fits, const Moment& moment, const CutClip& clip) {
        const auto found = std::ranges::find(fits, moment.rink_fit_id, &StoredFit::id);
        if (found == fits.end() || fits_.contains({clip.film.id, found->id})) return;
        StoredFit fit = *found;
        const bool inside = clip.span.has(found->frame);
        fit.id.clear();
        fit.film_id = clip.film.id;
        fit.carried_from.clear();
        fit.frame = inside ? clip.frame_of(found->frame) : 0;
        fit.pts_ticks = clip.pts[static_cast<std::size_t>(fit.frame)];
        if (!inside) fit.landmarks.clear(); // clicked on a picture that is not in the clip
        into_.put(fit);
        fits_.emplace(std::pair{clip.film.id, found->id}, fit.id);
    }

    void clock_marks(const std::vector<ClockMark>& marks, const CutClip& clip) {
        std::set<std::int64_t> put;
        for (ClockMark mark : marks) {
            if (!clip.span.has(mark.frame)) continue;
            put_clock(mark, clip, clip.frame_of(mark.frame));
            put.insert(mark.frame);
        }
        const auto before = std::ranges::find_if(marks.rbegin(), marks.rend(), [&](const ClockMark& mark) {
            return mark.frame < clip.span.first;
        });
        if (before == marks.rend() || put.contains(clip.span.first)) return;
        const auto shows = game_time_at(marks, clip.starts_s);
        ClockMark mark;
        mark.period = shows->period;
        mark.clock_s = shows->clock_s;
        mark.running = !shows->standing;
        put_clock(mark, clip, 0);
    }

    void put_clock(ClockMark mark, const CutClip& clip, std::int64_t frame) {
        mark.id.clear();
        mark.film_id = clip.film.id;
        mark.frame = frame;
        mark.pts_ticks = clip.pts[static_cast<std::size_t>(frame)];
        mark.film_s = clip.seconds[static_cast<std::size_t>(frame)];
        into_.put(mark);
    }

    const SeasonFile& from_;
    SeasonFile& into_;
    const Goalie& goalie_;
    const OtherNames& others_;
    CutFilms& clips_;
    const ExtractOptions& options_;
    std::map<std::pair<Id, Id>, Id> fits_; ///< by clip and old fit
    std::set<Id> shot_ids_, moment_ids_;
    int texts_left_out_ = 0;
};

Season season_of(const SeasonFile& from, const OtherNames& others) {
    Season season = from.season();
    season.id.clear();
    for (std::string* text : {&season.name, &season.league, &season.reviewer})
        if (others.named_in(*text)) text->clear();
    return season;
}

/// Written anew from first page to last, so that nothing is left in unused ones; no undo log, no sittings.
void leave_nothing_behind(const std::filesystem::path& path) {
    for (const char* ending : {".backup", ".lock"})
        std::filesystem::remove(path.string() + ending);
    guarded(path, [&] {
        SQLite::Database db{path.string(), SQLite::OPEN_READWRITE};
        db.exec("DELETE FROM change_step; DELETE FROM change; DELETE FROM record_change; VACUUM");
    });
}

} // namespace

ExtractReport extract_goalie(const SeasonFile& season, const Goalie& goalie,
                             const std::filesystem::path& into, const ExtractOptions& options,
                             const Progress& progress) {
    ExtractReport report;
    const Plays plays = plays_of(season, goalie.id);
    std::vector<std::string> names;
    for (const Goalie& other : season.goalies())
        if (other.id != goalie.id) names.push_back(other.name);
    const OtherNames others{names, goalie.name};
    const auto clips_into = into.parent_path() / (into.stem().string() + " clips");
    if (std::filesystem::exists(clips_into))
        fail(SeasonFault::exists, clips_into,
             "there is such a folder already. Choose another name for the season.");
    make_beside(into, [&](const std::filesystem::path& beside) {
        const auto folder = beside.parent_path() / clips_into.filename();
        CutFilms clips = cut_films(season, plays.own, plays.others, folder, progress);
        {
            SeasonFile file = SeasonFile::create(beside, season_of(season, others));
            ExtractWriter writer{season, file, goalie, others, clips, options};
            file.change("extract", [&] {
                writer.people(plays.games);
                writer.films(plays.own);
                writer.plays(plays.own);
                writer.answers();
            });
            if (writer.texts_left_out() > 0)
                report.told.push_back(
                    fmt::format("{} texts name another goalie and were left out", writer.texts_left_out()));
        }
        leave_nothing_behind(beside);
        report.shots = static_cast<int>(plays.own.size());
        report.clips = clips.count();
        report.told.insert(report.told.end(), clips.told.begin(), clips.told.end());
        if (std::filesystem::exists(folder)) std::filesystem::rename(folder, clips_into);
    });
    return report;
}

} // namespace ropeline
