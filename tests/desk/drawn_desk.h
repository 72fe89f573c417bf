// The desk drawn as in the window, without a graphics card, over a small season of three shots whose film is away.
#pragma once

#include "desk/commands.h"
#include "desk/drawn_text.h"
#include "desk/made_book.h"
#include "desk/panels/pieces.h"

#include <imgui.h>

#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <thread>

namespace ropeline::test {

struct DrawnDesk {
    Folder folder;
    App app;
    DrawnDesk() {
        setenv("XDG_CONFIG_HOME", folder.path.c_str(), 1);
        setenv("HOME", folder.path.c_str(), 1);
        IMGUI_CHECKVERSION();
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui::GetIO().BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
    }
    ~DrawnDesk() {
        app.stage.let_go.clear();
        ImGui::DestroyContext();
    }
    DrawnDesk(const DrawnDesk&) = delete;
    DrawnDesk& operator=(const DrawnDesk&) = delete;

    void resize(float width, float height, float text_px, bool dark) {
        ImGuiIO& io = ImGui::GetIO();
        io.DisplaySize = {width, height};
        io.DeltaTime = 1.0F / 60.0F;
        put_look(app.look, dark, type_sizes(height, text_px));
        io.Fonts->SetTexID(reinterpret_cast<ImTextureID>(std::uintptr_t{1}));
    }
    /// One turn of the window; what a thread works out is there before it is looked at.
    void turn() {
        while (update(app)) {
            if (app.log.book) app.log.book->start_commit();
            pass_time(app, 0.02);
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
        ImGui::NewFrame();
        draw_desk(app, ImGui::GetIO().DisplaySize.x, ImGui::GetIO().DisplaySize.y);
        ImGui::Render();
    }
    DrawnText draw() {
        constexpr int turns_to_settle = 3;
        for (int i = 0; i < turns_to_settle; ++i)
            turn();
        return drawn_text();
    }
};

inline void apply(App& app, const LogAction& action, std::int64_t frame = 100) {
    app.log.book->apply(action, test::at(frame));
}

/// A shot with two opponents to pass to, its card full, a note of some length.
inline void log_shot(App& app, std::int64_t frame, IcePoint goalie, IcePoint puck) {
    apply(app, NewShot{}, frame);
    for (const IcePoint place : {goalie - IcePoint{0.25, 0.0}, goalie + IcePoint{0.25, 0.1}, puck})
        apply(app, FilmClick{test::seen(place)}, frame);
    apply(app, FilmClick{test::seen({-4.5, 5.0})}, frame);
    apply(app, Arm{Hand::threat}, frame);
    apply(app, FilmClick{test::seen({3.5, 2.0})}, frame);
    for (const int number : {1, 2, 3, 3, 3})
        apply(app, Choose{number}, frame);
    apply(app,
          WriteNote{"Set early, then drifted out past the paint while the pass went across to the far side."},
          frame);
}

inline void open_made_season(DrawnDesk& desk) {
    const auto path = desk.folder.path / "one.season";
    {
        LogBook book = test::begun(path);
        test::fit_still(book, 90);
    }
    open_season(desk.app, path);
    log_shot(desk.app, 100, {0.1, 1.3}, {3.0, 7.0});
    log_shot(desk.app, 200, {0.3, 2.4}, {-5.0, 8.0});
    log_shot(desk.app, 300, {-0.8, 0.4}, {-3.0, -0.5});
    apply(desk.app, TakeShot{}, 300);
}

} // namespace ropeline::test
