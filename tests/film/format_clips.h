// The clips of the format test: what the ffmpeg command line is told, and the trap each of them holds.
#pragma once

#include <string>
#include <vector>

#include "film/clips.h"

namespace clips {

struct Clip {
    const char* file; ///< name and container
    const char*
        arguments; ///< SRC stands for the usual moving picture, FILE for the clip's path, DIR for the folder
};

constexpr const char* usual_source = "-f lavfi -i testsrc2=s=128x72:r=25:d=3";

inline const std::vector<Clip>& format_clips() {
    static const std::vector<Clip> all{
        // H.264
        {"h264_bframes.mp4", "SRC -c:v libx264 -preset veryfast -bf 3 -g 25 FILE"},
        {"h264_gop250.mp4",
         "-f lavfi -i testsrc2=s=128x72:r=25:d=12 -c:v libx264 -preset veryfast -bf 3 -g 250 FILE"},
        {"h264_open_gop.mp4", "SRC -c:v libx264 -x264-params open-gop=1:bframes=3:b-adapt=0:keyint=20 FILE"},
        {"h264_open_gop.mkv", "SRC -c:v libx264 -x264-params open-gop=1:bframes=3:b-adapt=0:keyint=20 FILE"},
        {"h264_open_gop.ts", "SRC -c:v libx264 -x264-params open-gop=1:bframes=3:b-adapt=0:keyint=20 FILE"},
        {"h264_b_pyramid.mp4",
         "SRC -c:v libx264 -x264-params bframes=5:b-pyramid=normal:b-adapt=0:keyint=30 FILE"},
        {"h264_intra_refresh.mp4", "SRC -c:v libx264 -x264-params intra-refresh=1:keyint=20:bframes=0 FILE"},
        {"h264_intra_refresh_b.ts", "SRC -c:v libx264 -x264-params intra-refresh=1:keyint=20:bframes=2 FILE"},
        {"h264_all_intra.mov", "SRC -c:v libx264 -preset veryfast -g 1 FILE"},
        {"h264_interlaced.ts",
         "SRC -c:v libx264 -flags +ilme+ildct -x264-params interlaced=1:tff=1:keyint=20 FILE"},
        {"h264_10_bit.mkv", "SRC -c:v libx264 -preset veryfast -pix_fmt yuv420p10le -g 20 FILE"},
        {"h264_422.mp4", "SRC -c:v libx264 -preset veryfast -pix_fmt yuv422p -g 20 FILE"},
        {"h264_444_odd_size.mp4",
         "-f lavfi -i testsrc2=s=131x75:r=25:d=2 -c:v libx264 -pix_fmt yuv444p FILE"},
        // HEVC
        {"hevc_open_gop.mp4", "SRC -c:v libx265 -x265-params log-level=none:keyint=20:min-keyint=20 FILE"},
        {"hevc_10_bit.mkv",
         "SRC -c:v libx265 -pix_fmt yuv420p10le -x265-params log-level=none:keyint=20 FILE"},
        {"hevc_open_gop.ts", "SRC -c:v libx265 -x265-params log-level=none:keyint=20 FILE"},
        {"hevc_radl.mp4",
         "SRC -c:v libx265 -x265-params log-level=none:keyint=20:open-gop=0:radl=2:bframes=4 FILE"},
        {"hevc_layers.mp4", "SRC -c:v libx265 -x265-params log-level=none:keyint=24:temporal-layers=3 FILE"},
        // VP8, VP9, AV1: frames that are decoded and never shown
        {"vp8_hidden.webm", "SRC -c:v libvpx -g 20 -auto-alt-ref 1 -lag-in-frames 16 -b:v 200k FILE"},
        {"vp9_hidden.webm",
         "SRC -c:v libvpx-vp9 -cpu-used 8 -g 20 -auto-alt-ref 1 -lag-in-frames 16 -b:v 200k FILE"},
        {"vp9_odd_size.mp4",
         "-f lavfi -i testsrc2=s=131x75:r=25:d=2 -c:v libvpx-vp9 -cpu-used 8 -pix_fmt yuv420p FILE"},
        {"av1.mkv", "SRC -c:v libaom-av1 -cpu-used 8 -g 20 -lag-in-frames 19 -b:v 200k FILE"},
        {"av1.mp4", "SRC -c:v libaom-av1 -cpu-used 8 -g 20 -b:v 200k FILE"},
        // older cameras
        {"mpeg2_interlaced.ts", "SRC -c:v mpeg2video -bf 2 -g 12 -flags +ilme+ildct -top 1 -b:v 1M FILE"},
        {"mpeg2_interlaced.mpg", "SRC -c:v mpeg2video -bf 2 -g 12 -flags +ilme+ildct -top 1 -b:v 1M FILE"},
        {"mpeg2_sound.vob", "SRC -f lavfi -i sine=d=3 -c:v mpeg2video -bf 2 -g 12 -b:v 1M -c:a mp2 FILE"},
        {"asp_b_frames.avi", "SRC -c:v mpeg4 -bf 2 -g 15 FILE"},
        {"asp_packed_b_frames.avi", "SRC -c:v libxvid -bf 2 -g 15 FILE"},
        {"asp.mp4", "SRC -c:v mpeg4 -bf 2 -g 15 FILE"},
        {"mjpeg_odd_size.avi", "-f lavfi -i testsrc2=s=131x75:r=25:d=2 -c:v mjpeg FILE"},
        {"prores.mov", "SRC -c:v prores_ks FILE"},
        {"h264_no_pts.avi", "SRC -c:v libx264 -preset veryfast -bf 3 -g 20 FILE"},
        {"h264_bare.264", "SRC -c:v libx264 -preset veryfast -bf 3 -g 20 FILE"},
        {"mpeg2_bare.m2v", "SRC -c:v mpeg2video -bf 2 FILE"},
        {"raw_bgr.avi", "SRC -pix_fmt bgr24 -c:v rawvideo FILE"},
        {"wmv.asf", "SRC -c:v wmv2 FILE"},
        {"h264.flv", "SRC -c:v libx264 -preset veryfast -bf 2 -g 20 FILE"},
        // containers
        {"fragments.mp4", "SRC -c:v libx264 -bf 2 -g 20 -movflags frag_keyframe+empty_moov FILE"},
        {"fragments_each_frame.mp4", "SRC -f lavfi -i sine=d=3 -c:v libx264 -bf 2 -g 20 -c:a aac -movflags "
                                     "frag_every_frame+empty_moov FILE"},
        {"sound_first.mp4",
         "-f lavfi -i sine=d=3 SRC -map 0:a -map 1:v -c:v libx264 -bf 2 -g 20 -c:a aac FILE"},
        {"edit_list_hides_start.mp4", "-ss 1.3 -i DIR/h264_gop250.mp4 -c copy -t 6 FILE"},
        {"edit_list_starts_late.mp4", "-itsoffset 0.7 -i DIR/h264_bframes.mp4 -c copy FILE"},
        {"starts_late.mkv", "-itsoffset 7 -i DIR/h264_bframes.mp4 -c copy FILE"},
        {"cues.mkv", "-i DIR/h264_gop250.mp4 -c copy -cues_to_front 1 FILE"},
        {"no_cues.mkv", "-i DIR/h264_bframes.mp4 -c copy -f matroska - | cat > FILE"},
        {"two_pictures.mkv",
         "SRC -f lavfi -i smptebars=s=96x64:r=30:d=2 -map 0 -map 1 -c:v libx264 -preset veryfast FILE"},
        // rates
        {"rate_120.mp4", "-f lavfi -i testsrc2=s=128x72:r=120:d=1 -c:v libx264 -preset veryfast -bf 2 FILE"},
        {"rate_23_976.mp4",
         "-f lavfi -i testsrc2=s=128x72:r=24000/1001:d=3 -c:v libx264 -preset veryfast FILE"},
        {"rate_varies.mp4",
         "-f lavfi -i testsrc2=s=128x72:r=60:d=2 -vf \"select='not(mod(n,5))+not(mod(n,7))+gt(n,80)'\" "
         "-fps_mode vfr -c:v libx264 -preset veryfast -bf 2 FILE"},
        {"rate_varies.mkv",
         "-f lavfi -i testsrc2=s=128x72:r=60:d=2 -vf \"select='not(mod(n,5))+not(mod(n,7))+gt(n,80)'\" "
         "-fps_mode vfr -c:v libx264 -preset veryfast -bf 2 FILE"},
        {"turned.mp4", "-i DIR/h264_bframes.mp4 -c copy -metadata:s:v rotate=90 FILE"},
        {"long_samples.mp4", "SRC -vf setsar=4/3 -c:v libx264 -preset veryfast FILE"},
    };
    return all;
}

inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
    for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
        text.replace(at, from.size(), to);
    }
    return text;
}

/// Makes the clip in a folder that already holds the clips listed before it.
inline void make(const Clip& clip, const std::string& folder) {
    std::filesystem::create_directories(folder);
    std::string arguments = replaced(clip.arguments, "SRC", usual_source);
    arguments = replaced(arguments, "DIR", folder);
    ffmpeg(replaced(arguments, "FILE", quoted(folder + "/" + clip.file)));
}

} // namespace clips
