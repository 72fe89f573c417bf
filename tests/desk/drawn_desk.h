// The whole desk drawn as in its window, without a graphics card: what is on it can be looked at and pointed at.
#pragma once

#include "desk/app.h"
#include "desk/drawn_text.h"
#include "desk/made_book.h"

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

} // namespace ropeline::test
