// A disk that is full for a while.
#pragma once

#include <sys/resource.h>

#include <csignal>

namespace ropeline::sample {

/// As long as it lives, no file grows beyond that: a full disk that gets room again.
class FullDisk {
public:
    explicit FullDisk(rlim_t bytes) {
        before_ = std::signal(SIGXFSZ, SIG_IGN);
        ::getrlimit(RLIMIT_FSIZE, &room_);
        const rlimit limit{bytes, room_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &limit);
    }
    ~FullDisk() {
        ::setrlimit(RLIMIT_FSIZE, &room_);
        std::signal(SIGXFSZ, before_);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;

private:
    rlimit room_{};
    void (*before_)(int) = SIG_DFL;
};

} // namespace ropeline::sample
