// The measure verb without its pipes: a request in JSON becomes an answer in JSON.
#pragma once

#include "camera/image_point.h"
#include "camera/rink_fit.h"
#include "depth/parameters.h"
#include "depth/verdict.h"
#include "rink/rule_book.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// A place as asked for: pixels, or metres on the ice when the request says `"ice": true`.
using Pair = std::array<double, 2>;

struct ThreatRequest {
    Pair at{};
    std::optional<ReceiverKind> kind; ///< none: what one stands for there (see usual_kind)
    Lane lane = Lane::open;
    bool took = false;
};

struct BeforeRequest {
    Pair goalie{};
    double seconds = 0.0;
};

struct MomentRequest {
    Pair puck{};
    std::optional<std::array<Pair, 2>> skates; ///< goalie's left, right
    std::optional<Pair> goalie;                ///< one of the two is there
    std::vector<ThreatRequest> threats;
    std::optional<Situation> situation;
    Likelihood likelihood = Likelihood::either;
    Sight sight = Sight::clear;
    std::optional<NextAction> next;
    std::optional<BeforeRequest> before;
};

struct MeasureRequest {
    RuleBookId rules = RuleBookId::nhl;
    bool ice = false;
    ImageSize image;
    LensChoice lens = LensChoice::automatic;
    double click_sigma_px = 1.0;
    RinkClicks clicks;
    std::vector<std::string>
        names; ///< of the landmarks, in the order of clicks.points; empty where given as a point
    std::vector<Pair> points;
    Level level = Level::senior;
    Parameters parameters;
    std::vector<MomentRequest> moments;
};

/// Throws  WrongCall: malformed JSON, a key that is not known, a value of the wrong kind or out of range;
///         names the place.
MeasureRequest parse_measure_request(std::string_view json);

/// Answer as JSON text, indented; figures that do not exist are null.
/// Throws  FitError where the clicks cannot carry a fit.
std::string answer_measure(const MeasureRequest& request);

} // namespace ropeline
