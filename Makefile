# The front door. `make demo` and `make test` need nothing but Debian 12 with root or sudo.
.PHONY: setup configure build demo test bench lint format clean

jobs := $(shell nproc)
pack := demo/hotel-pack

setup:
	@scripts/setup

configure: setup
	@scripts/setup page
	@mkdir -p build
	@cmake --preset release >build/configure.log 2>&1 || (cat build/configure.log; exit 1)

build: configure
	@cmake --build --preset release --parallel $(jobs) --target firstdraw

demo: build
	@build/release/firstdraw check examples/hotel
	@build/release/firstdraw pack examples/hotel -o $(pack) --no-week
	@build/release/firstdraw pack examples/clinic -o demo/clinic-pack >/dev/null
	@echo "The hand-over pack of the example hotel is in $(pack)/: start with $(pack)/hand-over.pdf"
	@echo "The pack of the example clinic, with its week of settings, is in demo/clinic-pack/. The hotel's settings and their proof:"
	@echo "  build/release/firstdraw week examples/hotel --quick"

test: configure
	@scripts/setup tests
	@cmake --build --preset release --parallel $(jobs)
	@scripts/with-postgres ctest --preset release --parallel $(jobs)

bench: configure
	@cmake --build --preset release --parallel $(jobs)
	@scripts/bench

# What .ci/run checks besides the tests: formatting and clang-tidy.
lint: setup
	@scripts/lint

format:
	@git ls-files 'src/*.?pp' 'tests/*.?pp' 'bench/*.?pp' | xargs clang-format-19 -i

clean:
	rm -rf build demo
