#include "chances/film_looker.h"

#include "chances/small_look.h"
#include "film/film_error.h"
#include "film/rgb.h"
#include "film/sound.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <optional>

namespace ropeline {

namespace {

static_assert(FilmSound::rate_hz == hearing_rate_hz);

constexpr double lost = 0.35; ///< likeness of pictures from one to the other of which no net is followed

} // namespace

struct FilmLooker::Insides {
    FilmSkim film;
    std::optional<FilmSound> sound;
    double heard_from_s;
    bool sound_ended = false;
    std::vector<float> mono; ///< not yet heard; windows overlap
    std::vector<Looked> looks;
    std::vector<Heard> heard;
    std::optional<SmallPicture> before;
    std::optional<CreaseSeen> net;    ///< at the look before, seen or followed
    std::deque<CoarsePicture> coarse; ///< of the last four looks
    std::deque<PictureChange> changes;

    Insides(const std::string& path, std::vector<std::byte> kept_index, double from_s)
        : film(path, std::move(kept_index), look_step_s),
          heard_from_s(std::max(from_s, film.frames().seconds_of(FrameIndex{0}))) {
        film.go_to(heard_from_s);
        if (!film.facts().has_sound) return;
        try {
            sound.emplace(path);
            sound->go_to(heard_from_s);
        } catch (const FilmError&) {
            sound.reset(); // it cannot be played: as if it had none
        }
    }

    /// The net, seen or followed by the camera's move from where it was.
    void note_net(Looked& look, const SmallPicture& now, const PictureChange& change) {
        const double half_width = 0.5 * now.width_px, half_height = 0.5 * now.height_px;
        look.dx = static_cast<float>(change.dx_px / half_width);
        look.dy = static_cast<float>(change.dy_px / half_height);
        if (net) {
            net->x_px += change.dx_px;
            net->y_px += change.dy_px;
        }
        const std::optional<CreaseSeen> seen = find_net(now);
        if (seen) {
            look.net = static_cast<float>(seen->score);
            look.net_x = static_cast<float>(seen->x_px / half_width - 1.0);
            look.net_y = static_cast<float>(seen->y_px / half_height - 1.0);
        }
        const bool same = net && (!seen || (std::abs(seen->x_px - net->x_px) < 0.5 * seen->width_px &&
                                            std::abs(seen->y_px - net->y_px) < seen->height_px));
        if (seen) net = seen;
        if (same) {
            look.stir = static_cast<float>(stir_in(*before, now, change, net->x_px, net->y_px,
                                                   1.2 * net->width_px, 1.5 * net->height_px));
        }
        const bool inside = net && net->x_px > 0.0 && net->y_px > 0.0 && net->x_px < now.width_px &&
                            net->y_px < now.height_px;
        if (!inside || change.likeness < lost) net.reset();
    }

    void look_at(double at_s, const Picture& picture) {
        if (!looks.empty() && at_s - looks.back().at_s > gap_s) { // nothing is known of what lies between
            before.reset();
            net.reset();
            coarse.clear();
            changes.clear();
        }
        const RgbPicture rgb = small_rgb_of(picture, film.facts(), look_width_px);
        SmallPicture now =
            small_picture_of({rgb.bytes.data(), rgb.width_px, rgb.height_px, 3 * rgb.width_px});
        CoarsePicture small = coarse_of(now);
        Looked look{.at_s = at_s};
        PictureChange change;
        if (!coarse.empty()) {
            change = change_between(coarse.back(), small);
            look.likeness = static_cast<float>(change.likeness);
        }
        changes.push_back(change);
        if (coarse.size() == 4) {
            look.likeness_of_four = static_cast<float>(change_between(coarse.front(), small).likeness);
            double dx = 0.0, dy = 0.0;
            for (const PictureChange& one : changes)
                dx += one.dx_px, dy += one.dy_px;
            look.shift_of_four_px = static_cast<float>(std::hypot(dx, dy));
        }
        if (before) {
            look.still = static_cast<float>(change_of_all(*before, now));
            note_net(look, now, change);
        }
        looks.push_back(look);
        before = std::move(now);
        coarse.push_back(std::move(small));
        if (coarse.size() > 4) coarse.pop_front();
        if (changes.size() > 4) changes.pop_front();
    }
};

FilmLooker::FilmLooker(const std::string& path, std::vector<std::byte> kept_index, double from_s)
    : insides_(std::make_unique<Insides>(path, std::move(kept_index), from_s)) {}

FilmLooker::~FilmLooker() = default;

double FilmLooker::film_first_s() const {
    return insides_->film.frames().seconds_of(FrameIndex{0});
}

double FilmLooker::film_last_s() const {
    const FrameTable& frames = insides_->film.frames();
    return frames.seconds_of(FrameIndex{frames.count() - 1});
}

bool FilmLooker::look() {
    const auto seen = insides_->film.next();
    if (!seen) return false;
    insides_->look_at(insides_->film.frames().seconds_of(seen->frame), *seen->picture);
    return true;
}

void FilmLooker::listen_to(double until_s, const std::stop_token& stop) {
    Insides& my = *insides_;
    std::array<float, FilmSound::channels * 4800> block{};
    while (my.sound && !my.sound_ended && !stop.stop_requested() && my.sound->next_seconds() < until_s) {
        const std::size_t moments = my.sound->read(block);
        my.sound_ended = moments < block.size() / FilmSound::channels;
        for (std::size_t i = 0; i < moments; ++i)
            my.mono.push_back(0.5F * (block[2 * i] + block[2 * i + 1]));
        const std::vector<Heard> more = hear(my.mono);
        my.heard.insert(my.heard.end(), more.begin(), more.end());
        my.mono.erase(my.mono.begin(),
                      my.mono.begin() + static_cast<std::ptrdiff_t>(more.size() * hearing_step));
    }
}

const std::vector<Looked>& FilmLooker::looks() const {
    return insides_->looks;
}

const std::vector<Heard>& FilmLooker::heard() const {
    return insides_->heard;
}

double FilmLooker::heard_from_s() const {
    return insides_->heard_from_s;
}

std::int64_t FilmLooker::decoded() const {
    return insides_->film.decoded();
}

} // namespace ropeline
