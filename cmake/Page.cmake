# embed_page(TARGET): the page of web/, built by its own tools and put into TARGET as serve/embedded_page.hpp has it.
# Without FIRSTDRAW_PAGE there is none: for whoever works on something else; `firstdraw serve --page` shows one.
option(FIRSTDRAW_PAGE "Build the page into the program" ON)
function(embed_page target)
  if(NOT FIRSTDRAW_PAGE)
    target_sources(${target} PRIVATE ${CMAKE_SOURCE_DIR}/cmake/no_page.cpp)
    return()
  endif()
  set(web ${CMAKE_SOURCE_DIR}/web)
  find_program(NPM npm)
  find_program(NODE NAMES node nodejs)
  if(NOT NPM OR NOT NODE OR NOT EXISTS ${web}/node_modules/vite/package.json)
    message(FATAL_ERROR "The page's npm packages are not there. Run: scripts/setup page")
  endif()
  file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${web}/src/* ${web}/public/*)
  list(FILTER sources EXCLUDE REGEX "/api-types\\.ts$")  # made from openapi.json by the build itself
  list(APPEND sources ${web}/index.html ${web}/package.json ${web}/package-lock.json ${web}/vite.config.ts
    ${web}/svelte.config.js ${web}/tsconfig.json ${CMAKE_SOURCE_DIR}/src/serve/openapi.json)
  set(built ${CMAKE_BINARY_DIR}/page)
  set(generated ${CMAKE_BINARY_DIR}/embedded/page.cpp)
  add_custom_command(OUTPUT ${generated}
    COMMAND ${NPM} --prefix ${web} run --silent build -- --outDir ${built} --emptyOutDir --logLevel warn
    COMMAND ${NODE} ${CMAKE_SOURCE_DIR}/cmake/embed-page.mjs ${built} ${generated}
    DEPENDS ${sources} ${CMAKE_SOURCE_DIR}/cmake/embed-page.mjs VERBATIM
    COMMENT "Building the page")
  target_sources(${target} PRIVATE ${generated})
  set_source_files_properties(${generated} PROPERTIES SKIP_PRECOMPILE_HEADERS ON)
endfunction()
