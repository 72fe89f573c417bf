// What the ffmpeg command line says of every frame of a clip: its time and the MD5 of its planes.
#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "film/clips.h"

namespace clips {

struct TrueFrame {
    double seconds = 0.0;
    std::string md5;
};

/// `ffmpeg -f framemd5`: frames in the order shown, not turned, in the stream's own time and time base.
/// `input_options`: what the command line is told before the file's name.
inline std::vector<TrueFrame> truth_of(const std::string& path, int stream = 0,
                                       const std::string& input_options = "") {
    std::istringstream lines(output_of("ffmpeg -nostdin -v fatal -autorotate 0 -copyts " + input_options +
                                       " -i " + quoted(path) + " -map 0:v:" + std::to_string(stream) +
                                       " -fps_mode passthrough -enc_time_base -1 -f framemd5 -"));
    std::vector<TrueFrame> frames;
    double tick = 1.0;
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("#tb 0:")) {
            const auto slash = line.find('/');
            tick = std::stod(line.substr(7, slash - 7)) / std::stod(line.substr(slash + 1));
        }
        if (line.starts_with('#')) continue;
        std::vector<std::string> fields;
        std::istringstream parts(line);
        for (std::string field; std::getline(parts, field, ',');)
            fields.push_back(field.substr(field.find_first_not_of(' ')));
        frames.push_back({static_cast<double>(std::stoll(fields.at(2))) * tick, fields.at(5)});
    }
    return frames;
}

} // namespace clips
