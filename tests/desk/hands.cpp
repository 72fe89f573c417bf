#include "desk/hands.h"

#include "desk/commands.h"
#include "desk/state/keys.h"

#include <doctest/doctest.h>

#include <cctype>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <thread>

namespace ropeline::test {

void Hands::key(const std::string& chord) {
    CAPTURE(chord);
    cost_.key(chord);
    ++inputs_;
    if (chord.size() == 1 && std::isdigit(chord[0])) {
        app_.actions.push_back(Number{chord[0] - '0'});
    } else {
        const auto command = command_for(chord);
        REQUIRE(command);
        app_.actions.push_back(Press{*command});
    }
    settle();
}

void Hands::type(std::string& field, std::string_view text) {
    field = text;
    for (std::size_t letter = 0; letter < text.size(); ++letter)
        cost_.key("a");
    inputs_ += static_cast<int>(text.size());
}

void Hands::click(ImagePoint at) {
    cost_.click();
    ++inputs_;
    app_.actions.push_back(LogAction{FilmClick{at}});
    settle();
}

void Hands::click_ribbon(std::int64_t at) {
    cost_.click();
    ++inputs_;
    app_.stage.player = at_frame(app_.stage.player, at, *frames_of(app_.stage));
    settle();
}

void Hands::step_to(std::int64_t wanted) {
    const auto second = std::lround(app_.stage.film->facts()->average_rate_hz);
    for (int presses = 0; frame() != wanted && presses < 200; ++presses) {
        const std::int64_t left = wanted - frame(), far = std::abs(left);
        const std::string way = left > 0 ? "Right" : "Left";
        key(far >= second && second >= 10 ? "Ctrl+" + way : far >= 10 ? "Shift+" + way : way);
    }
    REQUIRE(frame() == wanted);
}

void Hands::settle() {
    constexpr double turn_s = 0.02;
    do {
        pass_time(app_, turn_s);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
        if (app_.log.book) app_.log.book->start_commit();
    } while (update(app_) || !app_.actions.empty());
    if (app_.log.book) app_.log.book->wait_for_commit();
}

} // namespace ropeline::test
