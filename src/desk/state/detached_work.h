// Work whose wait nobody can cut short, as reading a folder on a drive that sleeps: a thread of its own does it, and is
// left to itself when nobody waits for the answer any more.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace ropeline {

template <class Answer>
class DetachedWork {
public:
    /// Begins at once. The work must own all that it needs; when it throws, the answer is an empty one.
    explicit DetachedWork(std::function<Answer()> work) : kept_(std::make_shared<Kept>()) {
        std::thread([kept = kept_, work = std::move(work)] {
            Answer answer{};
            try {
                answer = work();
            } catch (...) { // as when memory runs out: nothing was found
            }
            const std::lock_guard lock(kept->guard);
            kept->answer = std::move(answer);
        }).detach();
    }
    /// The answer, once; nothing while it is awaited.
    std::optional<Answer> take() {
        const std::lock_guard lock(kept_->guard);
        return std::exchange(kept_->answer, std::nullopt);
    }

private:
    struct Kept {
        std::mutex guard;
        std::optional<Answer> answer;
    };
    std::shared_ptr<Kept> kept_;
};

/// Takes the answer and lets go of the work. Out: nothing while it is awaited, or when there is none.
template <class Answer>
std::optional<Answer> take_answer(std::optional<DetachedWork<Answer>>& work) {
    if (!work) return std::nullopt;
    auto answer = work->take();
    if (answer) work.reset();
    return answer;
}

} // namespace ropeline
