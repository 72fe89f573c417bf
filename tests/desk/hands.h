// A coach's hands on the whole desk without its window: chords go the way that the window sends them, clicks are where
// the film is; each is counted. Waits for what the desk works out, which costs no hands.
#pragma once

#include "desk/app.h"
#include "desk/keystroke_level.h"

#include <string>
#include <string_view>

namespace ropeline::test {

class Hands {
public:
    explicit Hands(App& app) : app_(app) {}

    void key(const std::string& chord); ///< SDL's names: "Shift+Right", "7"
    void type(std::string& field, std::string_view text);
    void click(ImagePoint at); ///< on the film
    void think() { cost_.think(); }
    /// A click on the ribbon, as near as that gets: the frame it shows there.
    void click_ribbon(std::int64_t at);
    /// From the frame on screen to another one, by seconds, tens and single frames.
    void step_to(std::int64_t frame);
    /// Film that runs meanwhile, at a tempo.
    void watch(double film_s, double tempo) { watched_s_ += film_s / tempo; }
    /// Until the desk rests.
    void settle();

    std::int64_t frame() const { return number(app_.stage.player.frame); }
    int inputs() const { return inputs_; }
    double hands_s() const { return cost_.seconds(); }
    double watched_s() const { return watched_s_; }

private:
    App& app_;
    KeystrokeLevel cost_;
    int inputs_ = 0;
    double watched_s_ = 0.0;
};

} // namespace ropeline::test
