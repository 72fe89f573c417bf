#include "verbs/measure.h"

#include "rink/curves.h"
#include "rink/landmarks.h"
#include "verbs/json_reader.h"

namespace ropeline {
namespace {

std::string item(const std::string& list, std::size_t index) {
    return fmt::format("{}[{}]", list, index);
}

void read_landmark(const Json& at, const std::string& where, MeasureRequest& request) {
    require_keys(at, where, {"at", "name", "point", "on"});
    if (!at.contains("at")) throw WrongCall(fmt::format("{} lacks \"at\", the clicked pixel", where));
    const auto [x_px, y_px] = read_pair(at["at"], where + ".at");
    const auto given = std::ranges::count_if(std::array{"name", "point", "on"},
                                             [&](const char* key) { return at.contains(key); });
    if (given != 1) {
        throw WrongCall(fmt::format(
            "{} must say one of \"name\", \"point\" and \"on\": which place or line on the ice it shows",
            where));
    }
    const RuleBook& rules = rule_book(request.rules);
    if (at.contains("on")) {
        std::vector<std::string_view> names;
        for (const IceCurve& curve : ice_curves(rules))
            names.push_back(curve.name);
        const std::string name = read_choice(at["on"], where + ".on", names);
        request.clicks.curves.push_back({{x_px, y_px}, find_curve(rules, name).value()});
        return;
    }
    if (at.contains("point")) {
        const auto [x_m, y_m] = read_pair(at["point"], where + ".point");
        request.clicks.points.push_back({{x_px, y_px}, {x_m, y_m}, ""});
        request.names.emplace_back();
        return;
    }
    const std::string name = read_text(at["name"], where + ".name");
    const std::optional<Landmark> mark = find_landmark(rules, name);
    if (!mark)
        throw WrongCall(fmt::format("{}: the {} rule book has no landmark \"{}\"", where, rules.name, name));
    request.clicks.points.push_back({{x_px, y_px}, mark->at, mark->label, mark->at_boards});
    request.names.push_back(name);
}

ThreatRequest read_threat_request(const Json& at, const std::string& where) {
    require_keys(at, where, {"at", "kind", "lane", "took"});
    if (!at.contains("at")) throw WrongCall(fmt::format("{} lacks \"at\", where the opponent stands", where));
    ThreatRequest threat;
    threat.at = read_pair(at["at"], where + ".at");
    if (at.contains("kind")) {
        threat.kind =
            receiver_kind_from_key(read_choice(at["kind"], where + ".kind", {"one_timer", "stop", "tip"}));
    }
    if (at.contains("lane"))
        threat.lane = lane_from_key(read_choice(at["lane"], where + ".lane", {"open", "contested"})).value();
    if (at.contains("took")) threat.took = read_flag(at["took"], where + ".took");
    return threat;
}

BeforeRequest read_before(const Json& at, const std::string& where) {
    require_keys(at, where, {"goalie", "seconds"});
    if (!at.contains("goalie") || !at.contains("seconds"))
        throw WrongCall(fmt::format("{} must have \"goalie\" and \"seconds\"", where));
    BeforeRequest before{read_pair(at["goalie"], where + ".goalie"),
                         read_number(at["seconds"], where + ".seconds")};
    if (before.seconds < 0.0)
        throw WrongCall(fmt::format("{}.seconds is {}; the moment before lies in the past: 0 or more", where,
                                    before.seconds));
    return before;
}

void read_play(const Json& at, const std::string& where, MomentRequest& moment) {
    if (at.contains("situation")) {
        moment.situation = situation_from_key(
            read_choice(at["situation"], where + ".situation",
                        {"rush", "zone", "penalty_kill", "rebound", "breakaway", "neutral_ice"}));
    }
    if (at.contains("likelihood")) {
        moment.likelihood = likelihood_from_key(read_choice(at["likelihood"], where + ".likelihood",
                                                            {"shot", "either", "pass"}))
                                .value();
    }
    if (at.contains("sight")) {
        moment.sight =
            sight_from_key(read_choice(at["sight"], where + ".sight", {"clear", "partly", "screened"}))
                .value();
    }
    if (at.contains("next")) {
        moment.next =
            next_action_from_key(read_choice(at["next"], where + ".next", {"shot", "pass", "carry", "none"}));
    }
    if (at.contains("before")) moment.before = read_before(at["before"], where + ".before");
}

MomentRequest read_moment_request(const Json& at, const std::string& where) {
    require_keys(
        at, where,
        {"puck", "skates", "goalie", "threats", "situation", "likelihood", "sight", "next", "before"});
    if (!at.contains("puck")) throw WrongCall(fmt::format("{} lacks \"puck\"", where));
    if (at.contains("skates") == at.contains("goalie")) {
        throw WrongCall(
            fmt::format("{} must have either \"skates\" (the goalie's left, right) or \"goalie\"", where));
    }
    MomentRequest moment;
    moment.puck = read_pair(at["puck"], where + ".puck");
    if (at.contains("goalie")) moment.goalie = read_pair(at["goalie"], where + ".goalie");
    if (at.contains("skates")) {
        const Json& skates = read_list(at["skates"], where + ".skates");
        if (skates.size() != 2)
            throw WrongCall(fmt::format("{}.skates must be two points: left, right", where));
        moment.skates = {read_pair(skates[0], where + ".skates[0]"),
                         read_pair(skates[1], where + ".skates[1]")};
    }
    if (at.contains("threats")) {
        const std::string list = where + ".threats";
        for (const Json& threat : read_list(at["threats"], list)) {
            moment.threats.push_back(read_threat_request(threat, item(list, moment.threats.size())));
        }
    }
    read_play(at, where, moment);
    return moment;
}

void read_parameters(const Json& at, Parameters& parameters) {
    if (!at.is_object()) throw WrongCall("parameters must be an object");
    for (const auto& [key, value] : at.items()) {
        const std::string where = "parameters." + key;
        const auto facts = parameter_facts();
        const auto fact = std::ranges::find(facts, key, &ParameterFact::key);
        if (fact == facts.end()) {
            std::string all;
            for (const ParameterFact& known : facts)
                all += fmt::format("{}{}", all.empty() ? "" : ", ", known.key);
            throw WrongCall(fmt::format("parameters has the unknown key \"{}\"; known are {}", key, all));
        }
        const double number = read_number(value, where);
        if (number < fact->least || number > fact->most) {
            throw WrongCall(fmt::format("{} is {} {}; it must be {} to {} {}", where, number, fact->unit,
                                        fact->least, fact->most, fact->unit));
        }
        set_parameter(parameters, key, number);
    }
}

ImageSize read_image(const Json& at) {
    const auto [width, height] = read_pair(at, "image");
    for (const double side : {width, height}) {
        if (side != std::floor(side) || side < 1.0 || side > 65536.0) {
            throw WrongCall("image must be the width and height of the picture in whole pixels");
        }
    }
    return {static_cast<int>(width), static_cast<int>(height)};
}

void read_fit_part(const Json& at, MeasureRequest& request) {
    if (!at.contains("image"))
        throw WrongCall("the request lacks \"image\", the picture's width and height in pixels");
    request.image = read_image(at["image"]);
    if (at.contains("distortion")) {
        request.lens = read_choice(at["distortion"], "distortion", {"none", "radial"}) == "radial"
                           ? LensChoice::radial
                           : LensChoice::none;
    }
    if (at.contains("click_sigma_px")) {
        request.click_sigma_px = read_number(at["click_sigma_px"], "click_sigma_px");
        if (request.click_sigma_px <= 0.0) throw WrongCall("click_sigma_px must be above 0");
    }
    if (at.contains("landmarks")) {
        const Json& list = read_list(at["landmarks"], "landmarks");
        for (std::size_t i = 0; i < list.size(); ++i)
            read_landmark(list[i], item("landmarks", i), request);
    }
    if (at.contains("points")) {
        for (const Json& point : read_list(at["points"], "points")) {
            request.points.push_back(read_pair(point, item("points", request.points.size())));
        }
    }
}

} // namespace

MeasureRequest parse_measure_request(std::string_view json) {
    const Json at = parse_json(json);
    require_keys(at, "the request",
                 {"rink", "image", "distortion", "click_sigma_px", "landmarks", "points", "level",
                  "parameters", "moments", "ice"});
    MeasureRequest request;
    if (at.contains("rink")) {
        std::vector<std::string_view> keys;
        for (const RuleBook& book : rule_books())
            keys.push_back(book.key);
        request.rules = rule_book_from_key(read_choice(at["rink"], "rink", keys)).value();
    }
    if (at.contains("level")) {
        request.level =
            level_from_key(read_choice(at["level"], "level", {"youth", "junior", "senior", "elite"})).value();
    }
    request.parameters = parameters_for(request.level);
    if (at.contains("parameters")) read_parameters(at["parameters"], request.parameters);
    if (at.contains("ice")) request.ice = read_flag(at["ice"], "ice");
    if (request.ice) {
        for (const std::string_view key : {"image", "distortion", "click_sigma_px", "landmarks", "points"}) {
            if (at.contains(key)) {
                throw WrongCall(fmt::format(
                    "\"ice\": true says that moments are in metres on the ice; \"{}\" has no meaning "
                    "there: remove one of the two",
                    key));
            }
        }
    } else {
        read_fit_part(at, request);
    }
    if (at.contains("moments")) {
        for (const Json& moment : read_list(at["moments"], "moments")) {
            request.moments.push_back(read_moment_request(moment, item("moments", request.moments.size())));
        }
    }
    return request;
}

} // namespace ropeline
