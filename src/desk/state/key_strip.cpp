#include "desk/state/key_strip.h"

namespace ropeline {

Place place_of(KeyStrip strip) {
    switch (strip) {
    case KeyStrip::study:
    case KeyStrip::study_answer:
        return Place::studying;
    case KeyStrip::study_list:
        return Place::study;
    case KeyStrip::scorer_list:
        return Place::scorer_list;
    case KeyStrip::whole_list:
        return Place::whole_list;
    case KeyStrip::film:
    case KeyStrip::shot:
    case KeyStrip::fit:
    case KeyStrip::proposal:
        break;
    }
    return Place::log;
}

std::vector<StripRow> strip_rows(KeyStrip strip) {
    using enum Command;
    switch (strip) {
    case KeyStrip::study:
        return {{run_film, "run-up again"},
                {frame_back, ""},
                {frame_on, "frame"},
                {magnify, "closer"},
                {whole_picture, "whole picture"},
                {next_shot, "another one"},
                {put_down, "the list"}};
    case KeyStrip::study_answer:
        return {{take_shot, "next one"},
                {run_film, "run or hold"},
                {loop_shot, "around the play"},
                {slower, "tempo"},
                {frame_back, ""},
                {frame_on, "frame"},
                {magnify, "closer"},
                {whole_picture, "whole picture"},
                {undo, "take it back"},
                {put_down, "the list"}};
    case KeyStrip::study_list:
        return {{take_shot, "begin"},
                {undo, "take back the last answer"},
                {side_log, "Log"},
                {side_season, "Season"}};
    case KeyStrip::scorer_list:
        return {{take_shot, "bring the shots in"},
                {put_down, "leave the list"},
                {frame_back, ""},
                {frame_on, "column"},
                {previous_shot, ""},
                {next_shot, "what it holds"}};
    case KeyStrip::whole_list:
        return {{previous_shot, ""},        {next_shot, "pick"},         {next_field, "next line"},
                {who_in_net, "in net"},     {sort_list, "sort"},         {find_shots, "find"},
                {take_shot, "to the film"}, {Command::remove, "remove"}, {undo, "undo"},
                {put_down, "back"}};
    case KeyStrip::proposal: {
        std::vector<StripRow> rows = strip_rows(KeyStrip::fit);
        rows.insert(rows.begin(), {take_proposal, "take the fit proposed"});
        return rows;
    }
    case KeyStrip::fit:
        return {{other_landmark, "another point or line"},
                {lay_on_paint, "lay onto the paint"},
                {Command::remove, "drop the last click"},
                {take_shot, "keep the fit"},
                {put_down, "leave it"},
                {magnify, "closer"},
                {whole_picture, "whole picture"}};
    case KeyStrip::shot:
        return {{next_field, "next line"},
                {take_shot, "shot done"},
                {mark_skates, "skates"},
                {mark_puck, "puck"},
                {mark_threat, "opponent"},
                {take_ghosts, "as before"},
                {new_moment, "moment"},
                {whole_picture, "whole picture"},
                {unfold, "whole card"},
                {loop_shot, "loop"},
                {nudge_left, "nudge"},
                {Command::remove, "remove"},
                {undo, "undo"}};
    case KeyStrip::film:
        break;
    }
    return {{frame_back, ""},
            {frame_on, "frame"},
            {ten_on, "ten"},
            {second_on, "second"},
            {run_film, "run"},
            {faster, "faster"},
            {next_chance, "likely chance"},
            {previous_shot, ""},
            {next_shot, "shots"},
            {new_shot, "new shot here"},
            {fit_rink, "fit the rink"},
            {set_clock, "game clock"},
            {exports, "reel, still, handout"},
            {games, "games, films"}};
}

std::vector<StripKey> strip_keys(KeyStrip strip) {
    std::vector<StripKey> keys;
    if (strip == KeyStrip::study) keys = {{"1", "shot", {}, 1}, {"2", "pass", {}, 2}};
    if (strip == KeyStrip::study_list) keys = {{"1–5", "which decisions"}};
    if (strip == KeyStrip::shot) keys = {{"1–7", "choose"}};
    for (const StripRow& row : strip_rows(strip)) {
        keys.push_back({std::string{chord_of(row.command)}, std::string{row.label}, row.command});
        if (strip == KeyStrip::whole_list && row.command == Command::next_field)
            keys.push_back({"1–7", "choose"});
    }
    if (strip == KeyStrip::scorer_list)
        keys.insert(keys.end(),
                    {{"1", "head", {}, 1}, {"2", "metres or feet", {}, 2}, {"3", "from where", {}, 3}});
    return keys;
}

} // namespace ropeline
