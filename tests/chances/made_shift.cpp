#include "chances/made_shift.h"

#include "demo/dice.h"
#include "demo/motion.h"
#include "demo/script.h"

#include <algorithm>
#include <array>

namespace ropeline {
namespace {

using namespace demo;

/// Writes waypoints and beats as the puck goes up and down the ice.
class ShiftWriter {
public:
    ShiftWriter(unsigned seed, int chances) : dice_(seed), chances_left_(chances) {
        script_.first_holder = centre;
        script_.goalie.push_back({0.0, 1.1});
    }

    MadeShift write() {
        face_off();
        const int idle_visits = std::max(1, chances_left_);
        int idle_left = idle_visits;
        while (!over_ && (chances_left_ > 0 || idle_left > 0)) {
            through_neutral_zone();
            const bool to_net = chances_left_ > 0 && (idle_left == 0 || dice_.chance(0.5));
            along_the_boards();
            if (to_net) {
                chance();
                --chances_left_;
            } else {
                --idle_left;
            }
        }
        if (!over_) {
            through_neutral_zone();
            made_.whistle_s = t_;
        }
        coast();
        return finished();
    }

private:
    void everybody_to(IcePoint puck, double t) {
        struct Offset {
            Role who;
            double x, y;
        };
        constexpr std::array<Offset, 10> offsets{{{left_wing, -4.5, 0.5},
                                                  {centre, 0.0, 0.0},
                                                  {right_wing, 4.5, 0.5},
                                                  {left_point, -4.0, 8.0},
                                                  {right_point, 4.0, 8.0},
                                                  {left_defence, -2.2, -3.5},
                                                  {right_defence, 2.2, -3.5},
                                                  {cover_centre, 0.6, -1.8},
                                                  {cover_left, -4.0, 2.5},
                                                  {cover_right, 4.0, 2.5}}};
        for (const Offset& offset : offsets) {
            const double x = puck.x_m + offset.x + 0.8 * dice_.normal(),
                         y = puck.y_m + offset.y + 0.8 * dice_.normal();
            const bool on_point = offset.who == left_point || offset.who == right_point;
            script_.waypoints.push_back(
                {offset.who, t, std::clamp(x, -12.0, 12.0), std::clamp(y, on_point ? 15.0 : 1.0, 52.0)});
        }
    }

    void go_to(IcePoint puck, double seconds) {
        t_ += seconds;
        everybody_to(puck, t_);
        if (seconds > 1.0) {
            constexpr std::array<Role, 3> forwards{left_wing, centre, right_wing};
            holder_ = forwards[static_cast<std::size_t>(dice_.pick(3))];
            script_.beats.push_back({.kind = Beat::Kind::pass,
                                     .t = t_ - 0.6 * seconds,
                                     .to = holder_,
                                     .speed_mps = dice_.between(12.0, 18.0)});
        }
        at_ = puck;
    }

    void face_off() {
        at_ = dice_.chance(0.5) ? IcePoint{0.0, 27.1} : IcePoint{dice_.chance(0.5) ? -6.7 : 6.7, 6.1};
        everybody_to(at_, 0.0);
        made_.faced_off_s = t_ = dice_.between(3.5, 6.0);
        for (Waypoint waypoint : std::vector<Waypoint>(script_.waypoints)) {
            waypoint.t = t_;
            script_.waypoints.push_back(waypoint);
        }
    }

    void through_neutral_zone() {
        const double until = t_ + dice_.between(6.0, 14.0);
        while (t_ < until)
            go_to({dice_.between(-10.0, 10.0), dice_.between(22.0, 40.0)}, dice_.between(2.0, 3.0));
    }

    /// Into the zone, round the boards; the goalie looks on.
    void along_the_boards() {
        go_to({dice_.between(-9.0, 9.0), 17.0}, 2.0);
        const double until = t_ + dice_.between(3.0, 10.0);
        while (t_ < until) {
            const double side = dice_.chance(0.5) ? -1.0 : 1.0;
            go_to({side * dice_.between(7.0, 11.0), dice_.between(3.0, 14.0)}, dice_.between(1.8, 2.8));
        }
    }

    void chance() {
        go_to({dice_.between(-4.0, 4.0), dice_.between(4.5, 9.0)}, dice_.between(1.6, 2.4));
        t_ += 0.3;
        const double lot = dice_.uniform();
        const Outcome outcome = lot < 0.4    ? Outcome::save_held
                                : lot < 0.65 ? Outcome::save_rebound
                                : lot < 0.8  ? Outcome::miss
                                : lot < 0.9  ? Outcome::post
                                             : Outcome::goal;
        const double aside = outcome == Outcome::miss ? 1.8 : outcome == Outcome::post ? 0.93 : 0.5;
        script_.beats.push_back({.kind = Beat::Kind::shot,
                                 .t = t_,
                                 .speed_mps = dice_.between(18.0, 32.0),
                                 .aim = {dice_.chance(0.5) ? aside : -aside, 0.0, dice_.between(0.1, 0.9)},
                                 .outcome = outcome,
                                 .chance = static_cast<int>(++chance_count_)});
        t_ += 0.8;
        if (outcome == Outcome::goal || outcome == Outcome::save_held) {
            over_ = true;
            made_.goal = outcome == Outcome::goal;
            made_.whistle_s = t_ + (made_.goal ? 0.3 : dice_.between(0.4, 1.6));
            return;
        }
        script_.beats.push_back({.kind = Beat::Kind::roll, .t = 0.0, .to = left_wing, .until = t_ + 1.2});
        go_to({dice_.chance(0.5) ? -8.0 : 8.0, dice_.between(4.0, 10.0)}, 1.0);
        t_ += 0.6;
    }

    /// After the whistle they glide about, slower and slower.
    void coast() {
        for (const double after : {2.0, 4.0, 7.0, 12.0})
            everybody_to({at_.x_m * 0.5, std::max(3.0, at_.y_m + 0.3 * after)}, t_ + after);
        t_ += 12.0;
    }

    MadeShift finished() {
        script_.length_s = t_;
        script_.goalie.push_back({t_, 1.3});
        std::vector<Instant>& frames = made_.play.frames;
        frames.resize(static_cast<std::size_t>(frame_at(t_)));
        for (Instant& instant : frames) {
            instant.puck = {0.0, 9.0, 0.0};
            instant.goalie.at = {0.0, 1.3};
        }
        move_skaters(script_, frames, static_cast<std::uint64_t>(dice_.pick(1 << 20)));
        std::vector<PuckEvent> events;
        for (int round = 0; round < 3; ++round) {
            pose_skaters(events, script_.first_holder, frames);
            events = move_puck(script_, frames);
            move_goalie(script_, events, frames);
        }
        for (const PuckEvent& event : events) {
            if (event.beat.chance > 0)
                made_.chances_s.push_back(static_cast<double>(event.start) / film_rate_hz);
        }
        return std::move(made_);
    }

    Dice dice_;
    int chances_left_;
    std::size_t chance_count_ = 0;
    Script script_;
    MadeShift made_;
    Role holder_ = centre;
    IcePoint at_;
    double t_ = 0.0;
    bool over_ = false;
};

} // namespace

MadeShift make_shift(unsigned seed, int chances) {
    return ShiftWriter(seed, chances).write();
}

} // namespace ropeline
