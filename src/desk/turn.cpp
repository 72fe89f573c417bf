// One turn of the window but the drawing: time passes, actions are carried out, the film is shown, the log is read.
#include "desk/app.h"
#include "desk/carry_out.h"
#include "desk/find_rink_here.h"
#include "desk/follow_marks.h"
#include "desk/likely_chances.h"
#include "desk/propose_rink.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <new>
#include <utility>

namespace ropeline {

void tell(App& app, const std::string& text, bool trouble) {
    if (app.log.book) {
        app.log.book->tell(text, trouble);
    } else {
        app.start.trouble = text;
    }
}

void tell_trouble(App& app, const std::exception& error) {
    const bool memory = dynamic_cast<const std::bad_alloc*>(&error) != nullptr;
    tell(app,
         memory ? "There is not enough memory for this: close other programs, then try again." : error.what(),
         true);
}

void pass_time(App& app, double elapsed_s) {
    pass_study_time(app, elapsed_s);
    pass_film_time(app.stage, elapsed_s);
}

namespace {

/// Takes the fits that were followed since, and what is to be told of those that were not.
void take_carried(App& app) {
    FilmStage& stage = app.stage;
    const LogState& log = app.log.state();
    const auto is_there = [](const auto& all, const auto& id, auto id_of) {
        return std::ranges::find(all, id, id_of) != all.end();
    };
    for (const CarriedKey& done : stage.carry->take_done()) {
        if (!is_there(log.fits, done.id, &StoredFit::id)) continue;
        app.log.book->apply(KeepCarry{{done.id, done.first_frame, done.frames}}, frame_at(stage));
        if (!is_there(log.carries, done.first_frame, &StoredCarry::first_frame))
            stage.carry_wanted = false; // it was not taken, which is told: not again and again
    }
    for (const KeyNotCarried& refused : stage.carry->take_refused()) {
        stage.not_carried.push_back(refused.id);
        tell(app, fmt::format("The rink cannot be followed from frame {}: {}", refused.frame, refused.why),
             true);
    }
}

/// Are these still the clicked fits of the film? One that was clicked anew is another.
bool are_the_keys(const std::vector<ClickedKey>& keys, const LogState& log) {
    std::size_t same = 0;
    for (const StoredFit& fit : log.fits) {
        if (!fit.carried_from.empty()) continue;
        if (same == keys.size() || keys[same].id != fit.id || keys[same].key.frame != fit.frame ||
            keys[same].key.fit.image_from_ice != fit.fit.image_from_ice)
            return false;
        ++same;
    }
    return same == keys.size();
}

/// Out     true when nothing follows the rink any more.
bool followed_to_the_end(App& app) {
    FilmStage& stage = app.stage;
    const LogState& log = app.log.state();
    const bool finished = stage.carry->finished(); // asked first: what it left is then taken whole
    if (stage.carry_asked != log.revision && !are_the_keys(stage.carried_keys, log))
        stage.carry->stop();
    else
        take_carried(app);
    stage.carry_asked = log.revision;
    if (!finished) return false;
    if (const std::string error = stage.carry->error(); !error.empty()) {
        tell(app, "The rink cannot be followed through this film: " + error, true);
        stage.carry_wanted = false;
    }
    stage.carry.reset();
    stage.carry_asked.reset();
    return true;
}

/// Follows every clicked fit through the film; takes what is done.
void follow_rink(App& app) {
    FilmStage& stage = app.stage;
    const LogState& log = app.log.state();
    if (stage.carry && !followed_to_the_end(app)) return;
    if (!stage.carry_wanted || log.selection.fit() || stage.carry_asked == log.revision) return;
    CarryJob job;
    job.left_out = stage.not_carried;
    for (const StoredFit& fit : clicked_fits(log))
        job.keys.push_back({fit.id, {fit.rules, fit.fit, fit.frame}, known_stretch(log, fit)});
    const auto frames = stage.film->frames();
    if (!frames || all_carried(*frames, job)) {
        if (frames) stage.carry_asked = log.revision;
        return;
    }
    for (const LikelyChance& chance : stage.chances.shown.chances) {
        const std::int64_t at = number(frames->shown_at(chance.at_s));
        if (fit_here(log, at).source == FitHere::Source::elsewhere) job.chances.push_back(at);
    }
    job.film_path = stage.path;
    job.kept_index = stage.film->index_to_keep();
    stage.carried_keys = job.keys;
    stage.carry = std::make_unique<CarryAhead>(std::move(job));
}

/// The film's row, and its index so that the next opening need not read it through.
void keep_film(App& app, const FilmFacts& facts, const FrameTable& frames) {
    app.stage.kept = true;
    KeepFilm keep{facts, frames.count()};
    keep.facts.path = app.stage.path;
    const FrameIndex last{frames.count() - 1};
    keep.span = FilmSpan{frames.seconds_of(FrameIndex{0}), frames.seconds_of(last)};
    keep.index = app.stage.film->index_to_keep();
    app.log.book->apply(keep, frame_at(app.stage));
    if (!facts.warnings.empty()) tell(app, facts.warnings.front(), true);
}

/// A season that ends the program ends it while it or its film is opened.
bool is_opened(const App& app) {
    const FilmStage& stage = app.stage;
    if (!stage.film || stage.film->state() == FilmDesk::State::failed) return true;
    return stage.on_screen || !stage.film->missing(stage.player.frame).empty();
}

/// Out  true while something of it is awaited
bool turn_film(App& app) {
    const auto frames = frames_of(app.stage);
    if (!frames) return show_opening(app.stage);
    const auto facts = app.stage.film->facts();
    if (!app.stage.kept) keep_film(app, *facts, *frames);
    follow_rink(app);
    look_for_chances(app);
    propose_rink(app);
    find_rink_here(app);
    const bool following = follow_marks(app);
    app.stage.view.shown = {facts->shown_width_px, facts->shown_height_px};
    Player& player = app.stage.player;
    if (const auto jump = app.log.book->take_jump()) player = at_frame(player, *jump, *frames);
    if (const auto jump_s = app.log.book->take_jump_s())
        player = at_frame(player, number(frames->shown_at(*jump_s + 1e-6)), *frames);
    run_study(app, *frames);
    player.frame = frames->clamp(number(player.frame));
    if (app.guide) app.guide = stepped_to(std::move(*app.guide), number(player.frame));
    const bool awaited = show_frame(app.stage, *facts);
    return awaited || app.stage.search.work || following;
}

/// Which of the game's films are not where they were, looked up when the games page opens or the log changes.
void look_for_films(App& app) {
    GamesForm& form = app.pages.games_form;
    const LogState& log = app.log.state();
    if (!app.pages.games) return form.looked_for.reset();
    if (form.looked_for == log.revision) return;
    form.looked_for = log.revision;
    form.gone.clear();
    for (const Film& film : log.films) {
        std::error_code failed;
        if (!std::filesystem::exists(resolved_path(app, film.path), failed)) form.gone.push_back(film.id);
    }
}

} // namespace

bool read_for_drawing(App& app) {
    const auto frames = frames_of(app.stage);
    const bool awaited =
        view_again(app.log, frame_seen(app.stage), app.stage.view.shown, app.settings.lengths);
    const bool opened = app.side == Side::log;
    const TurnView& view = app.log.view;
    aim_view(app.stage.aim, app.stage.view, opened && view.play ? &*view.play : nullptr,
             view.moment ? view.moment->id : Id{}, app.settings.motion);
    look_for_films(app);
    if (app.letters_read_at != app.log.state().revision) {
        note_letters(app.letters, app.log.state());
        app.letters_read_at = app.log.state().revision;
    }
    refresh_list(app.list, app.log.state(), frames.get());
    if (app.scorer_list) read_again_if_needed(*app.scorer_list, app.log.state(), frames.get());
    const bool working = run_season(app);
    if (app.side == Side::study) {
        if (app.season.stale) refresh_season(app.season, app.log.book->file());
        refresh_study(app, !app.season.facts.same_as(app.study.facts_seen));
        app.study.facts_seen = app.season.facts;
    }
    return awaited || working || app.stage.aim.on_its_way();
}

namespace {

/// Nothing is drawn from what could not be worked out.
void forget_readings(App& app) {
    app.log.view = {};
    app.log.viewed = false;
    app.list.listed.clear();
    app.list.found.clear();
}

} // namespace

bool update(App& app) {
    bool awaited = false;
    try {
        carry_out_actions(app);
        awaited = watch_chooser(app);
        awaited = watch_start_page(app) || awaited;
        if (!app.log.book) return awaited;
        awaited = watch_study(app) || awaited;
        awaited = watch_export(app) || awaited;
        awaited = watch_voice(app) || awaited;
        awaited = watch_uniting(app) || awaited;
        awaited = turn_film(app) || awaited;
        if (!app.settings.opened_well && is_opened(app)) note_opened_well(app);
    } catch (const std::exception& error) {
        app.log.progress.reset();
        tell_trouble(app, error);
    }
    try {
        awaited = read_for_drawing(app) || awaited;
    } catch (const std::exception& error) {
        forget_readings(app);
        tell_trouble(app, error);
    }
    return awaited;
}

} // namespace ropeline
