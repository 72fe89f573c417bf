#include "follow/carry_walk.h"
#include "verbs/json_reader.h"
#include "verbs/measure.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <fstream>
#include <iterator>
#include <memory>

namespace ropeline {
namespace {

struct CarryCall {
    std::string clip, fit_path;
    std::int64_t from = 0;
    std::int64_t to = -1; // last
};

KeyFit read_key_fit(const std::string& path) {
    std::ifstream file(path);
    if (!file)
        throw WrongCall(
            fmt::format("cannot read the fit {}; it is a measure request's clicks with a \"frame\"", path));
    const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    Json at = parse_json(text);
    if (!at.is_object() || !at.contains("frame") || !at["frame"].is_number_integer() ||
        at["frame"].get<std::int64_t>() < 0) {
        throw WrongCall(fmt::format("{} lacks \"frame\": the number of the clicked frame, from 0", path));
    }
    KeyFit key;
    key.frame = at["frame"].get<std::int64_t>();
    at.erase("frame");
    const MeasureRequest request = parse_measure_request(at.dump());
    if (request.ice) throw WrongCall(fmt::format("{} has no clicks to fit: \"ice\" is true", path));
    key.rules = request.rules;
    key.fit = fit_rink(request.clicks, request.image, {request.click_sigma_px, request.lens});
    return key;
}

std::string line_of(std::int64_t number, const std::optional<CarriedFrame>& frame) {
    Json line{{"frame", number}, {"state", key_of(CarryState::lost)}};
    for (const char* key : {"h", "radial", "rms_px", "sigma_m", "on_paint"})
        line[key] = nullptr;
    if (frame && frame->state != CarryState::lost) {
        line["h"] = frame->fit.image_from_ice;
        line["radial"] = frame->fit.radial;
        line["rms_px"] = frame->rms_px;
        line["sigma_m"] = frame->sigma_m;
        if (frame->paint_expected > 0) line["on_paint"] = 1.0 * frame->paint_agreed / frame->paint_expected;
        line["state"] = key_of(frame->state);
    }
    return line.dump();
}

void run(const CarryCall& call) {
    const KeyFit key = read_key_fit(call.fit_path);
    FilmReader film(call.clip, {.cache_bytes = std::size_t{96} << 20}); // every frame is passed once or twice
    const FilmFacts& facts = film.facts();
    const std::int64_t count = film.frames().count();
    const std::int64_t to = call.to < 0 ? count - 1 : call.to;
    if (key.fit.image != ImageSize{facts.shown_width_px, facts.shown_height_px}) {
        throw WrongCall(fmt::format(
            "the fit was clicked on a picture of {} x {} px, but this film shows {} x {} px",
            key.fit.image.width_px, key.fit.image.height_px, facts.shown_width_px, facts.shown_height_px));
    }
    if (key.frame >= count)
        throw WrongCall(fmt::format("the fit is for frame {}, but the film has {} frames", key.frame, count));
    if (call.from > to || to >= count) {
        throw WrongCall(
            fmt::format("--from {} --to {} is no stretch of a film of {} frames", call.from, to, count));
    }
    if (call.from < key.frame) { // walked backward, told forward
        std::vector<std::string> lines;
        carry_to(film, key, call.from, [&](std::int64_t number, const std::optional<CarriedFrame>& frame) {
            if (number <= to && (number < key.frame || to == key.frame))
                lines.push_back(line_of(number, frame));
            return true;
        });
        for (auto line = lines.rbegin(); line != lines.rend(); ++line)
            fmt::print("{}\n", *line);
        if (to <= key.frame) return;
    }
    carry_to(film, key, to, [&](std::int64_t number, const std::optional<CarriedFrame>& frame) {
        if (number >= call.from) fmt::print("{}\n", line_of(number, frame));
        std::fflush(stdout);
        return true;
    });
}

} // namespace

void add_carry(CLI::App& app, Job& chosen) {
    const auto call = std::make_shared<CarryCall>();
    CLI::App* verb =
        app.add_subcommand("carry", "A rink fit through a clip: one JSON line a frame, ice metres to pixels");
    verb->add_option("clip", call->clip, "The film file")->required();
    verb->add_option("--fit", call->fit_path,
                     "JSON: a measure request's clicks and the \"frame\" they are on")
        ->required();
    verb->add_option("--from", call->from, "First frame (0)")->check(CLI::NonNegativeNumber);
    verb->add_option("--to", call->to, "Last frame (the film's last)")->check(CLI::NonNegativeNumber);
    verb->callback([call, &chosen] { chosen = [call] { run(*call); }; });
}

} // namespace ropeline
