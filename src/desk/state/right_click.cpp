#include "desk/state/right_click.h"

#include <initializer_list>

namespace ropeline {

namespace {

std::vector<MenuEntry> with_words(std::initializer_list<std::pair<const char*, Command>> rows) {
    std::vector<MenuEntry> all;
    for (const auto& [words, command] : rows)
        all.push_back({words, command});
    return all;
}

std::vector<MenuEntry> menu_of_mark(MarkKind kind) {
    switch (kind) {
    case MarkKind::threat:
        return with_words({{"how the receiver shoots: stops it, at once, tips it", Command::how_he_shoots},
                           {"the lane: open or contested", Command::pass_lane},
                           {"this one got the pass", Command::took_pass},
                           {"another opponent", Command::mark_threat},
                           {"take the receiver away", Command::remove}});
    case MarkKind::puck:
        return with_words({{"mark the puck again", Command::mark_puck},
                           {"an opponent a pass could reach", Command::mark_threat}});
    case MarkKind::goalie:
    case MarkKind::skate_left:
    case MarkKind::skate_right:
        return with_words({{"mark both skates again", Command::mark_skates},
                           {"mark the goalie with one point", Command::mark_goalie},
                           {"set, or moving", Command::set_or_moving},
                           {"the goalie's sight", Command::sight},
                           {"on the post", Command::on_post}});
    case MarkKind::landmark:
        break;
    }
    return {};
}

} // namespace

std::vector<MenuEntry> menu_at(const LogState& log, const RightClicked& there) {
    if (const FitDraft* fit = log.selection.fit()) {
        std::vector<MenuEntry> all;
        if (there.click && *there.click < fit->clicks.size()) {
            const StoredLandmark& click = fit->clicks[*there.click];
            const std::string name = label_of(rule_book(fit->rules), click.name);
            all.push_back({"drop this click: " + name, RemoveClick{*there.click}});
            all.push_back({"click it anew", OfferLandmark{click.name}});
        }
        for (MenuEntry& one : with_words({{"another point or line", Command::other_landmark},
                                          {"lay onto the paint", Command::lay_on_paint},
                                          {"swap left and right", Command::swap_sides},
                                          {"keep the fit", Command::take_shot}}))
            all.push_back(std::move(one));
        return all;
    }
    const Moment* moment = moment_in_hand(log);
    if (moment && there.mark && *there.mark < moment->marks.size())
        return menu_of_mark(moment->marks[*there.mark].kind);
    if (chosen_shot(log))
        return with_words({{"mark both skates", Command::mark_skates},
                           {"mark the puck", Command::mark_puck},
                           {"an opponent a pass could reach", Command::mark_threat},
                           {"another moment here", Command::new_moment},
                           {"shot is done", Command::take_shot},
                           {"fit the rink", Command::fit_rink}});
    return with_words({{"new shot at this frame", Command::new_shot},
                       {"fit the rink", Command::fit_rink},
                       {"what the game clock shows", Command::set_clock},
                       {"look closer", Command::magnify},
                       {"whole picture", Command::whole_picture}});
}

} // namespace ropeline
