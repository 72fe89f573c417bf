#include "desk/likely_chances.h"

#include "chances/packed_marks.h"

#include <algorithm>
#include <utility>

namespace ropeline {

namespace {

/// What the season keeps of it, if that was found in this very film.
FilmMarks kept_marks(const App& app, const FilmFacts& facts) {
    const auto kept = app.log.book->file().film_marks(open_film(app.log.state()));
    if (!kept || kept->fingerprint != facts.fingerprint) return {};
    return unpacked(kept->marks).value_or(FilmMarks{});
}

void keep(App& app, const FilmFacts& facts) {
    LikelyChances& chances = app.stage.chances;
    if (!std::exchange(chances.wanted, false)) return; // why not was told: not again and again
    const KeepFilmMarks keep{facts.fingerprint, packed(chances.found)};
    app.log.book->apply(keep, frame_at(app.stage));
    const auto kept = app.log.book->file().film_marks(open_film(app.log.state()));
    chances.wanted = kept && kept->marks == keep.marks;
}

/// Out     true when something new was found
bool take_found(App& app, const FilmFacts& facts) {
    LikelyChances& chances = app.stage.chances;
    const bool finished = chances.scan->finished(); // asked first: what it left is then taken whole
    auto found = chances.scan->take();
    if (found) {
        chances.found = *std::move(found);
        keep(app, facts);
    }
    if (!finished) return found.has_value();
    if (const std::string error = chances.scan->error(); !error.empty()) {
        chances.wanted = false;
        tell(app, "The film cannot be looked through for chances: " + error, true);
    }
    chances.scan.reset();
    return found.has_value();
}

/// Twice a second along a stretch that a fit was carried, where it was held.
std::vector<RinkKnown> known_along(const StoredCarry& carry, const RuleBook& rules,
                                   const FrameTable& frames) {
    constexpr double step_s = 0.5;
    std::vector<RinkKnown> known;
    double next_s = -1e9;
    for (std::int64_t frame = carry.first_frame; frame <= carry.last_frame(); ++frame) {
        const double at_s = frames.seconds_of(frames.clamp(frame));
        if (at_s < next_s) continue;
        const bool joins = !known.empty() && at_s - known.back().when.last_s < 2.0 * step_s;
        next_s = at_s + step_s;
        if (carry.frames.state(static_cast<std::size_t>(frame - carry.first_frame)) != CarryState::held)
            continue;
        const bool net = net_in_picture(carry.at(frame).fit, rules);
        if (joins && known.back().net == net)
            known.back().when.last_s = at_s;
        else
            known.push_back({{at_s, at_s}, net});
    }
    return known;
}

/// Out     true when the rink is known otherwise than before
bool read_known_rink(LikelyChances& chances, const LogState& log, const FrameTable& frames) {
    bool changed = false;
    KnownRinks known;
    for (const StoredCarry& carry : log.carries) {
        const std::pair key{carry.rink_fit_id, carry.first_frame};
        const auto before = chances.known.find(key);
        if (before != chances.known.end() && before->second.frames == carry.frames.size()) {
            known.insert(chances.known.extract(before));
            continue;
        }
        const auto fit = std::ranges::find(log.fits, carry.rink_fit_id, &StoredFit::id);
        if (fit == log.fits.end()) continue;
        known[key] = {carry.frames.size(), known_along(carry, rule_book(fit->rules), frames)};
        changed = true;
    }
    changed = changed || !chances.known.empty(); // what is left there is gone
    chances.known = std::move(known);
    return changed;
}

} // namespace

void look_for_chances(App& app) {
    FilmStage& stage = app.stage;
    LikelyChances& chances = stage.chances;
    const auto frames = frames_of(stage);
    if (!frames || open_film(app.log.state()).empty()) return;
    const auto facts = stage.film->facts();
    bool changed = false;
    if (!std::exchange(chances.asked, true)) {
        chances.found = kept_marks(app, *facts);
        changed = true;
    }
    if (chances.scan) {
        changed = take_found(app, *facts) || changed;
    } else if (chances.wanted && !chances.found.whole) {
        chances.scan =
            std::make_unique<FilmScan>(ScanJob{stage.path, stage.film->index_to_keep(), chances.found});
    }
    if (chances.known_at != app.log.state().revision) {
        chances.known_at = app.log.state().revision;
        changed = read_known_rink(chances, app.log.state(), *frames) || changed;
    }
    if (!changed) return;
    std::vector<RinkKnown> known;
    for (const auto& [key, along] : chances.known)
        known.insert(known.end(), along.rink.begin(), along.rink.end());
    chances.shown = with_known_rink(chances.found, known);
}

} // namespace ropeline
