#include "desk/state/doings.h"

#include "desk/state/log_state.h"

#include <initializer_list>

namespace ropeline {

namespace {

using enum Command;

std::vector<Doing> with_words(std::initializer_list<std::pair<const char*, Command>> rows) {
    std::vector<Doing> all;
    for (const auto& [words, command] : rows)
        all.push_back({words, command});
    return all;
}

std::vector<Doing> doings_with(MarkKind kind) {
    switch (kind) {
    case MarkKind::threat:
        return with_words({{"how he shoots: stops it, at once, tips it", how_he_shoots},
                           {"his lane: open or contested", pass_lane},
                           {"he got the pass", took_pass},
                           {"another opponent", mark_threat},
                           {"take him away", Command::remove}});
    case MarkKind::puck:
        return with_words(
            {{"mark the puck again", mark_puck}, {"an opponent a pass could reach", mark_threat}});
    case MarkKind::goalie:
    case MarkKind::skate_left:
    case MarkKind::skate_right:
        return with_words({{"mark both skates again", mark_skates},
                           {"mark him with one point", mark_goalie},
                           {"set, or moving", set_or_moving},
                           {"his sight", sight},
                           {"on the post", on_post}});
    case MarkKind::landmark:
        break;
    }
    return {};
}

} // namespace

std::vector<Doing> doings_at(const LogState& log, const RightClicked& there) {
    if (const FitDraft* fit = log.selection.fit()) {
        std::vector<Doing> all;
        if (there.click && *there.click < fit->clicks.size()) {
            const StoredLandmark& click = fit->clicks[*there.click];
            const std::string name = label_of(rule_book(fit->rules), click.name);
            all.push_back({"drop this click: " + name, RemoveClick{*there.click}});
            all.push_back({"click it anew", OfferLandmark{click.name}});
        }
        for (Doing& one : with_words({{"another point or line", other_landmark},
                                      {"lay onto the paint", lay_on_paint},
                                      {"swap left and right", swap_sides},
                                      {"keep the fit", take_shot}}))
            all.push_back(std::move(one));
        return all;
    }
    const Moment* moment = moment_in_hand(log);
    if (moment && there.mark && *there.mark < moment->marks.size())
        return doings_with(moment->marks[*there.mark].kind);
    if (chosen_shot(log))
        return with_words({{"mark both skates", mark_skates},
                           {"mark the puck", mark_puck},
                           {"an opponent a pass could reach", mark_threat},
                           {"another moment here", new_moment},
                           {"shot is done", take_shot},
                           {"fit the rink", fit_rink}});
    return with_words({{"new shot at this frame", new_shot},
                       {"fit the rink", fit_rink},
                       {"what the game clock shows", set_clock},
                       {"look closer", magnify},
                       {"whole picture", whole_picture}});
}

} // namespace ropeline
