// A window that nobody sees, for what needs a graphics context.
#pragma once

#include "desk/real_window.h"

#include <SDL.h>
#include <SDL_opengl.h>
#include <doctest/doctest.h>

#include <cstdlib>

namespace ropeline::test {

struct HiddenWindow {
    HiddenWindow() {
        setenv("DISPLAY", display.name().c_str(), 1);
        REQUIRE(SDL_InitSubSystem(SDL_INIT_VIDEO) == 0);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 3);
        window = SDL_CreateWindow("", 0, 0, 64, 64, SDL_WINDOW_OPENGL | SDL_WINDOW_HIDDEN);
        REQUIRE(window);
        context = SDL_GL_CreateContext(window);
        REQUIRE(context);
    }
    ~HiddenWindow() {
        SDL_GL_DeleteContext(context);
        SDL_DestroyWindow(window);
        SDL_Quit();
    }
    HiddenWindow(const HiddenWindow&) = delete;
    HiddenWindow& operator=(const HiddenWindow&) = delete;

    test::VirtualDisplay display;
    SDL_Window* window = nullptr;
    SDL_GLContext context = nullptr;
};

} // namespace ropeline::test
