#include "desk/app.h"

#include "season/dates.h"

#include <fmt/core.h>

#include <algorithm>

namespace ropeline {

namespace {

void close_film(App& app) {
    app.sound.stop();
    app.carry.reset();
    app.film.reset();
    app.film_path.clear();
    app.film_kept = false;
    app.texture.clear();
    app.on_screen.reset();
    app.player = {};
    app.ribbon = {};
    app.glimpse.reset();
    app.glimpse_texture.clear();
    app.view.zoom = 1.0;
    app.carry_wanted = true;
}

void remember(App& app) {
    save_settings(settings_path(), app.settings);
}

} // namespace

std::string resolved_path(const App& app, const std::string& path) {
    if (path.empty() || !app.book) return path;
    Film film;
    film.path = path;
    return film_path(app.book->file(), film).string();
}

std::shared_ptr<const FrameTable> frames_of(const App& app) {
    if (!app.film || app.film->state() != FilmDesk::State::ready) return nullptr;
    auto frames = app.film->frames();
    return frames && frames->count() > 0 ? frames : nullptr;
}

FrameAt frame_at(const App& app) {
    const auto frames = frames_of(app);
    if (!frames) return {};
    const auto facts = app.film->facts();
    return {number(app.player.frame),
            frames->pts_of(app.player.frame).ticks,
            frames->seconds_of(app.player.frame),
            {facts->shown_width_px, facts->shown_height_px}};
}

void open_season(App& app, const std::filesystem::path& path) {
    if (app.book) app.book->file().wait_until_kept();
    LogBook book{SeasonFile::open(path)};
    close_film(app);
    app.book.emplace(std::move(book));
    app.book->file().leave_to_keep();
    app.settings.last_season = std::filesystem::absolute(path);
    remember(app);
    app.trouble.clear();
    app.side = Side::log;
    app.season_stale = true;
    app.list_page.reset();
    app.list = {};
    app.games_form = {};
    app.games_form.date = today();
    open_chosen_film(app);
}

void open_film(App& app, const std::string& path) {
    if (app.book && !app.book->state().game) {
        app.games_page = true;
        app.book->tell("Start a game first, then add its film.", true);
        return;
    }
    close_film(app);
    app.film_path = resolved_path(app, path);
    FilmOptions options;
    options.cache_bytes = std::size_t{512} << 20;
    if (app.book) {
        for (const Film& known : app.book->state().films) {
            if (resolved_path(app, known.path) != app.film_path) continue;
            if (auto kept = app.book->file().film_index(known.id))
                options.kept_index = std::move(kept->frames);
        }
    }
    app.film = std::make_unique<FilmDesk>(app.film_path, options);
}

void open_chosen_film(App& app) {
    if (!app.book) return;
    const LogState& log = app.book->state();
    if (!log.film) {
        close_film(app);
        return;
    }
    const std::string& path = log.films[*log.film].path;
    if (app.film && app.film_path == resolved_path(app, path)) return;
    open_film(app, path);
}

void choose_game(App& app, std::size_t index) {
    app.book->choose_game(index);
    open_chosen_film(app);
}

void choose_film(App& app, std::size_t index) {
    app.book->choose_film(index);
    open_chosen_film(app);
}

void drop_file(App& app, const std::string& path) {
    if (std::filesystem::path(path).extension() == ".season") {
        try {
            open_season(app, path);
        } catch (const std::exception& error) {
            if (app.book) {
                app.book->tell(error.what(), true);
            } else {
                app.trouble = error.what();
            }
        }
        return;
    }
    if (!app.book && is_scorer_list(path)) {
        app.trouble = "Make the season first, then drop its lists of shots on the desk.";
        return;
    }
    if (!app.book) {
        app.first_run.film = path;
        return;
    }
    if (is_scorer_list(path)) return open_list(app, path);
    app.games_form.film = path;
    open_film(app, path);
}

void refresh_season(App& app) {
    app.season_stale = false;
    try {
        app.facts = app.book->file().shot_facts();
        app.answers = answered_moments(app);
    } catch (const SeasonError& error) {
        app.book->tell(error.what(), true);
    }
}

namespace {

/// While the film is still being read through, its first picture is there already. True while it is awaited.
bool show_opening(App& app) {
    if (!app.film || app.film->state() != FilmDesk::State::opening) return false;
    const PicturePtr picture = app.film->first_picture();
    if (picture && !app.texture.filled()) {
        const auto facts = app.film->facts();
        app.view.shown = {facts->shown_width_px, facts->shown_height_px};
        app.texture.put(*picture, *facts);
    }
    return true;
}

/// Sound runs while the film runs forward at full speed; then the film follows the sound that is heard.
void follow_sound(App& app, const FilmFacts& facts) {
    Player& player = app.player;
    const bool sounds = player.playing && player.clock.speed == 1.0 && facts.has_sound && !app.muted;
    if (!sounds) {
        app.sound.stop();
        return;
    }
    if (!app.sound.playing()) app.sound.play(app.film_path, film_time(player.clock, player.now_s));
    if (const auto heard = app.sound.heard_s())
        player.clock = led_by_sound(player.clock, *heard, player.now_s);
}

/// Follows every clicked fit that was not followed yet; takes what is done.
void follow_rink(App& app) {
    LogBook& book = *app.book;
    if (app.carry) {
        const bool finished = app.carry->finished(); // asked first: what it left is then taken whole
        for (CarriedKey& done : app.carry->take_done()) {
            const auto& fits = book.state().fits;
            const bool still_there =
                std::ranges::any_of(fits, [&](const StoredFit& fit) { return fit.id == done.id; });
            if (still_there) book.keep_carry({done.id, done.first_frame, std::move(done.frames)});
        }
        for (const KeyNotCarried& refused : app.carry->take_refused()) {
            app.not_carried.push_back(refused.id);
            book.tell(
                fmt::format("The rink cannot be followed from frame {}: {}", refused.frame, refused.why),
                true);
        }
        if (!finished) return;
        if (const std::string error = app.carry->error(); !error.empty()) {
            book.tell("The rink cannot be followed through this film: " + error, true);
            app.carry_wanted = false;
        }
        app.carry.reset();
    }
    if (!app.carry_wanted || book.state().fit) return;
    CarryJob job;
    job.carried_before = app.not_carried;
    for (const StoredCarry& known : book.state().carries)
        job.carried_before.push_back(known.rink_fit_id);
    for (const StoredFit& fit : clicked_fits(book.state()))
        job.keys.push_back({fit.id, {fit.rules, fit.fit, fit.frame}});
    if (std::ranges::all_of(job.keys, [&](const ClickedKey& clicked) {
            return std::ranges::find(job.carried_before, clicked.id) != job.carried_before.end();
        }))
        return;
    job.film_path = app.film_path;
    job.kept_index = app.film->index_to_keep();
    app.carry = std::make_unique<CarryAhead>(std::move(job));
}

/// The film's row, and its index so that the next opening need not read it through.
void keep_film(App& app, const FilmFacts& facts, const FrameTable& frames) {
    app.film_kept = true;
    FilmFacts kept = facts;
    kept.path = app.film_path;
    try {
        const FrameIndex last{frames.count() - 1};
        app.book->keep_film(kept, frames.count(),
                            FilmSpan{frames.seconds_of(FrameIndex{0}), frames.seconds_of(last)});
        const LogState& log = app.book->state();
        if (log.film) {
            app.book->file().put(StoredFilmIndex{log.films[*log.film].id, facts.fingerprint, film_library(),
                                                 app.film->index_to_keep()});
        }
    } catch (const SeasonError& error) {
        app.book->tell(error.what(), true);
    }
    if (!facts.warnings.empty()) app.book->tell(facts.warnings.front(), true);
}

} // namespace

namespace {

/// Fetches what the cursor over the ribbon asks for. True while a look is awaited.
bool look_ahead(App& app, const FilmFacts& facts) {
    if (app.glimpse_wanted && !app.glimpse)
        app.glimpse = std::make_unique<Glimpse>(app.film_path, app.film->index_to_keep());
    if (app.glimpse_wanted) app.glimpse->ask(*app.glimpse_wanted, app.glimpse_within);
    app.glimpse_wanted.reset();
    if (!app.glimpse) return false;
    const auto seen = app.glimpse->take();
    if (seen) app.glimpse_texture.put(*seen->picture, facts);
    return seen || app.glimpse->awaited();
}

} // namespace

void pass_time(App& app, double elapsed_s) {
    if (app.study && (app.study->phase == StudyPhase::call || app.study->phase == StudyPhase::place))
        app.study->waited_s += elapsed_s;
    const auto frames = frames_of(app);
    if (!frames) return;
    if (app.step_held != 0) {
        const bool ran = app.step_held_s >= hold_to_run_s;
        app.step_held_s += elapsed_s;
        const bool at_end = number(app.player.frame) == (app.step_held > 0 ? frames->count() - 1 : 0);
        if (!ran && app.step_held_s >= hold_to_run_s && !at_end)
            app.player = running(app.player, app.step_held, *frames);
    }
    const FrameIndex before = app.player.frame;
    app.player = ticked(app.player, app.player.now_s + elapsed_s, *frames);
    // A loop that begins again takes the sound back with it.
    if (app.player.loop && app.player.clock.speed > 0.0 && app.player.frame < before) app.sound.stop();
}

bool update(App& app) {
    if (!app.book) {
        app.actions.clear();
        return await_practice(app);
    }
    app.book->report_progress([&app](double share) {
        app.progress = share;
        if (app.draw_meanwhile) app.draw_meanwhile();
    });
    const Moment* before = moment_in_hand(app.book->state());
    const Id was_in_hand = before ? before->id : Id{};
    const Id film_before = open_film(app.book->state());
    for (const LogAction& action : app.actions)
        app.book->apply(action, frame_at(app));
    if (open_film(app.book->state()) != film_before) open_chosen_film(app);
    if (app.clock_sent) {
        app.clock_sent = false;
        if (!app.book->state().notice.trouble) app.clock_field = ClockField::closed;
    }
    const Moment* after = moment_in_hand(app.book->state());
    if (!after || after->id != was_in_hand) app.tried.reset();
    app.progress.reset();
    if (!app.actions.empty()) app.season_stale = true;
    app.actions.clear();

    const auto frames = frames_of(app);
    if (!frames) return show_opening(app);
    const auto facts = app.film->facts();
    if (!app.film_kept) keep_film(app, *facts, *frames);
    try {
        follow_rink(app);
    } catch (const SeasonError& error) {
        app.book->tell(error.what(), true);
        app.carry_wanted = false;
    }
    app.view.shown = {facts->shown_width_px, facts->shown_height_px};
    if (const auto jump = app.book->take_jump()) app.player = at_frame(app.player, *jump, *frames);
    if (const auto jump_s = app.book->take_jump_s())
        app.player = at_frame(app.player, number(frames->shown_at(*jump_s + 1e-6)), *frames);
    run_study(app, *frames);
    follow_sound(app, *facts);
    app.player.frame = frames->clamp(number(app.player.frame));
    if (app.guide) app.guide = stepped_to(std::move(*app.guide), number(app.player.frame));
    const bool looking = look_ahead(app, *facts);
    const bool moving = app.player.playing || app.step_held != 0;
    if (app.on_screen == app.player.frame) return moving || looking;
    app.film->want(app.player.frame, app.player.direction);
    if (const PicturePtr picture = app.film->cached(app.player.frame)) {
        app.texture.put(*picture, *facts);
        app.on_screen = app.player.frame;
    }
    return true;
}

void overrule_verdict(App& app, std::optional<Verdict> verdict) {
    app.actions.push_back(Overrule{verdict, verdict ? app.overrule_text : std::string{}});
    app.overrule_open = false;
}

void choose_number(App& app, int number) {
    if (!app.book) return;
    const auto index = static_cast<std::size_t>(number - 1);
    if (app.list_page && app.side == Side::log) {
        turn_list_switch(app, number);
    } else if (app.list.open) {
        choose_in_open_cell(app, number);
    } else if (app.overrule_open) {
        if (index < reviewer_verdicts.size()) overrule_verdict(app, reviewer_verdicts.at(index));
    } else if (app.side == Side::log) {
        app.actions.push_back(Choose{number});
    } else if (app.side == Side::study && app.study) {
        if (number <= 2) answer_call(app, number == 1 ? Read::shot : Read::pass);
    } else if (app.side == Side::study && number <= study_whats) {
        app.study_filter.what = static_cast<StudyWhat>(number - 1);
    }
}

} // namespace ropeline
