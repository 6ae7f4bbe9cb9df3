# Makefile - build, demo, check.
#
#   make           the program, build/lapwing        make demo     a night of tunnel runs, end to end
#   make check     every test under ASan and UBSan   make deps     installs the Debian packages it needs
#   make browser   pages in Chromium without a window; skipped where there is none
#   make packages  lists them
#   make lint      format and static analysis        make layers   the rule of which room sees which
#   make install   PREFIX=/usr/local DESTDIR=        make uninstall
#   make bench-coverage SEEDS=200                    do the intervals cover the demo's truth?
#   make bench-nights NIGHTS=10000                   do they in simulated nights with drift?
#   make bench-faults EACH=500 SEED=1                are faults in a log found, and clean ones left alone?
#   make bench-page                                  is a large night's page small, and written in a second?
#
# One set of rules serves every flavour: release, sanitizers and coverage differ in BUILD and CFLAGS
# only. Objects mirror the house below $(BUILD); a header's change rebuilds exactly its users.

CC      ?= cc
PREFIX  ?= /usr/local
BUILD   ?= build
CFLAGS  ?= -O2 -g
WARN     = -std=c17 -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion \
           -Wstrict-prototypes -Wmissing-prototypes -Wvla -Wformat=2 -Wundef -ffp-contract=off \
           $(if $(CI),-Werror)
CPPFLAGS += -I. -I$(BUILD) -D_POSIX_C_SOURCE=200809L
LDLIBS   = -lsqlite3 -lyaml -ludunits2 -lcrypto -lcsv -lgsl -lgslcblas -lqhull_r -lxlsxwriter -lpng \
           -lturbojpeg -lz -lpthread -lm

LIB     ?= $(wildcard schema/*.c ingest/*.c reduce/*.c reduce/physics/*.c reduce/statistics/*.c report/*.c)
TESTS   ?= $(wildcard tests/*.c tests/published/*.c tests/faults/*.c)
PHYSICS  = $(wildcard reduce/physics/*.c)
obj      = $(patsubst %.c,$(BUILD)/%.o,$(1))

ASAN     = BUILD=build/asan CFLAGS='-O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all' \
           LDFLAGS='-fsanitize=address,undefined'

all: $(BUILD)/lapwing

$(BUILD)/lapwing: $(call obj,lapwing.c) $(call obj,$(LIB))
	@echo "  link $@"
	@$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LDLIBS)

$(BUILD)/tests/run: $(call obj,$(TESTS)) $(call obj,$(LIB))
	@echo "  link $@"
	@$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lcunit $(LDLIBS)

# The browser's tests stand on the fixtures of the others.
BROWSER_TESTS = $(wildcard tests/browser/*.c) $(wildcard tests/report_fixture_*.c) \
                tests/test_report_fixture.c tests/glance_made.c tests/check.c tests/program.c \
                tests/scratch.c
$(BUILD)/tests/browser/run: $(call obj,$(BROWSER_TESTS)) $(call obj,$(LIB))
	@echo "  link $@"
	@$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lcunit $(LDLIBS)

# The demo night's generator shares no code with the program.
$(BUILD)/make_night: $(call obj,$(wildcard sample_runs/*.c))
	@echo "  link $@"
	@$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lm

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	@echo "  cc   $<"
	@$(CC) $(WARN) $(CPPFLAGS) $(CFLAGS) -MMD -MP -c -o $@ $<

# SQL as an array of lines: one long literal would pass the length that C promises.
$(BUILD)/schema_sql.inc: schema/schema.sql
	@mkdir -p $(@D)
	@awk '{gsub(/\\/,"\\\\"); gsub(/"/,"\\\""); printf "\"%s\\n\",\n", $$0}' $< > $@.tmp && mv $@.tmp $@
$(call obj,schema/store.c): $(BUILD)/schema_sql.inc

# The page's style sheet and script, as C arrays.
$(BUILD)/%.inc: report/%
	@mkdir -p $(@D)
	@awk '{gsub(/\\/,"\\\\"); gsub(/"/,"\\\""); printf "\"%s\\n\",\n", $$0}' $< > $@.tmp && mv $@.tmp $@
$(call obj,report/page.c): $(BUILD)/page.css.inc $(BUILD)/page.js.inc

-include $(patsubst %.o,%.d,$(call obj,$(LIB) $(TESTS) $(BROWSER_TESTS) lapwing.c $(wildcard sample_runs/*.c tests/bench/*.c)))


# ---- packages ------------------------------------------------------------------------------------

BUILD_PACKAGES = gcc libc6-dev libsqlite3-dev libyaml-dev libudunits2-dev libssl-dev libcsv-dev \
                 libgsl-dev libqhull-dev libxlsxwriter-dev libpng-dev libturbojpeg0-dev zlib1g-dev
CHECK_PACKAGES = libcunit1-dev sqlite3 python3
LINT_PACKAGES  = clang-format clang-tidy cppcheck
BROWSER_PACKAGES = chromium

# Installs what is missing as root or through sudo; else prints the line to type, and stops.
define need_packages
	@command -v dpkg-query >/dev/null 2>&1 || { \
	    echo "not a Debian system: please provide $(1) yourself"; exit 0; }; \
	missing=; for package in $(1); do \
	    dpkg-query -W -f '$${db:Status-Status}\n' $$package 2>/dev/null | grep -qx installed \
	        || missing="$$missing $$package"; done; \
	test -z "$$missing" && exit 0; \
	if test "$$(id -u)" = 0; then as=; elif command -v sudo >/dev/null 2>&1; then as=sudo; else \
	    echo "missing packages; as root, type:"; \
	    echo "    apt-get update && apt-get install -y$$missing"; exit 1; fi; \
	echo "installing$$missing"; \
	$$as env DEBIAN_FRONTEND=noninteractive apt-get update -qq && \
	$$as env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing \
	    >$${TMPDIR:-/tmp}/lapwing-packages.log 2>&1 || { \
	    echo "installing failed; see $${TMPDIR:-/tmp}/lapwing-packages.log, or as root type:"; \
	    echo "    apt-get update && apt-get install -y$$missing"; exit 1; }
endef

packages:
	@echo "build: $(BUILD_PACKAGES)"
	@echo "check: $(CHECK_PACKAGES)"
	@echo "lint:  $(LINT_PACKAGES)"
	@echo "browser: $(BROWSER_PACKAGES), for the tests of the pages; npm for axe-core, if at hand"

deps:
	$(call need_packages,$(BUILD_PACKAGES))
check-deps: deps
	$(call need_packages,$(CHECK_PACKAGES))
lint-deps: check-deps
	$(call need_packages,$(LINT_PACKAGES))
browser-deps: check-deps
	$(call need_packages,$(BROWSER_PACKAGES))

# ---- the two commands of the README --------------------------------------------------------------

# As many jobs as processors, unless the caller said otherwise.
JOBS = $(if $(findstring j,$(filter-out --%,$(MAKEFLAGS))),,-j$(shell nproc 2>/dev/null || echo 2))

NIGHT = sample_runs/night

demo: deps
	@$(MAKE) --no-print-directory $(JOBS) $(BUILD)/lapwing $(NIGHT)/logs/.made
	@$(BUILD)/lapwing -C $(NIGHT) batch

$(NIGHT)/logs/.made: $(BUILD)/make_night
	@echo "  logs of the demo night, invented"
	@$(BUILD)/make_night --out $(NIGHT)
	@touch $@

check: check-deps
	@$(MAKE) --no-print-directory $(JOBS) $(ASAN) build/asan/lapwing build/asan/make_night build/asan/tests/run
	LAPWING=build/asan/lapwing MAKE_NIGHT=build/asan/make_night build/asan/tests/run $(SUITES)

# ---- the pages in a browser ----------------------------------------------------------------------

# axe-core (MPL-2.0) judges accessibility; a tool of the tests, fetched and never kept.
AXE = build/axe/node_modules/axe-core
AXE_VERSION = 4.10.3

browser: check-deps
	@command -v $${CHROMIUM:-chromium} >/dev/null 2>&1 || $(MAKE) --no-print-directory browser-deps || true
	@test -f $(AXE)/axe.min.js || npm install --silent --no-audit --no-fund --ignore-scripts \
	    --prefix build/axe axe-core@$(AXE_VERSION) >/dev/null 2>&1 || \
	    echo "axe-core could not be fetched: the pages are not checked with it"
	@$(MAKE) --no-print-directory $(JOBS) $(ASAN) build/asan/lapwing build/asan/make_night build/asan/tests/browser/run
	AXE=$(AXE) LAPWING=build/asan/lapwing MAKE_NIGHT=build/asan/make_night build/asan/tests/browser/run $(SUITES)

# ---- lint, layers, benchmarks --------------------------------------------------------------------

SOURCES = $(wildcard *.c schema/*.[ch] ingest/*.[ch] reduce/*.[ch] reduce/physics/*.[ch] \
            reduce/statistics/*.[ch] report/*.[ch] sample_runs/*.[ch] tests/*.[ch] tests/*/*.[ch])
TIDY    = $(addprefix $(BUILD)/tidy/,$(filter %.c,$(SOURCES)))

lint: lint-deps format-check $(TIDY)
	@echo "  cppcheck"
	@cppcheck --quiet --std=c11 --error-exitcode=3 --enable=warning,style,performance,portability \
	    --inline-suppr --suppressions-list=.cppcheck -I. -j 2 \
	    $(filter %.c,$(SOURCES))

format-check:
	@clang-format --dry-run -Werror $(SOURCES)

# One file a call: with several, clang-tidy 14 gives false alarms about va_list.
$(BUILD)/tidy/%.c: %.c .clang-tidy $(BUILD)/schema_sql.inc $(BUILD)/page.css.inc $(BUILD)/page.js.inc
	@mkdir -p $(@D)
	@clang-tidy --quiet $< -- -std=c17 $(CPPFLAGS) 2>$@.err || { cat $@.err; exit 1; }
	@touch $@

# Which room may see which, checked by machine. Physics and statistics: no store, no files, no clock.
# A third argument names the one header that is let through.
sees = @if grep -nE '^\#include *["<]($(2))' $(1) /dev/null | grep -vF '$(or $(3),no exception)'; then \
           echo "layers: the lines above break the rule of the house"; exit 1; fi
PURE_SYMBOLS = gsl_|qh_|_?_?(sig)?setjmp$$|stderr$$|mem(cpy|set|move|cmp)$$|str(cmp|len)$$|(c|m|re)alloc$$|free$$|qsort$$|_GLOBAL_OFFSET_TABLE_|__stack_chk_fail|(sqrt|cbrt|pow|exp|exp2|expm1|log|log2|log10|log1p|sin|cos|tan|asin|acos|atan|atan2|atanh|sinh|cosh|tanh|sincos|hypot|fabs|floor|ceil|round|lround|fmin|fmax|fmod|ldexp|frexp|erf|erfc|lgamma|tgamma|nan)$$

# Triangulation is left out of the symbols: Qhull's interface wants a stream for its complaints.
layers: $(call obj,$(filter-out %/triangulation.c,$(PHYSICS)) $(wildcard reduce/statistics/*.c))
	$(call sees,$(filter-out %/triangulation.c,$(wildcard reduce/physics/*.[ch])),schema/|ingest/|report/|sqlite3|stdio|csv|yaml|time|pthread)
	$(call sees,$(wildcard reduce/statistics/*.[ch]),schema/|ingest/|report/|sqlite3|stdio|csv|yaml|time|pthread,"schema/point_statistics.h")
	$(call sees,reduce/physics/*.[ch],reduce/statistics/)
	$(call sees,reduce/*.[ch],ingest/|report/|sqlite3|csv)
	$(call sees,ingest/*.[ch],reduce/|report/|sqlite3)
	$(call sees,report/*.[ch],reduce/|ingest/|sqlite3|csv|gsl)
	$(call sees,schema/*.[ch],ingest/|reduce/|report/)
	$(call sees,$(wildcard schema/*.h ingest/*.h reduce/*.h report/*.h),sqlite3|csv\.h|gsl)
	$(call sees,sample_runs/*.[ch],schema/|ingest/|reduce/|report/|gsl)
	$(call sees,$(filter-out schema/store%.c schema/statement.c,$(wildcard schema/*.[ch])),sqlite3)
	@if nm -u $^ | sed -n 's/^ *U //p' | sort -u \
	    | grep -vxE '($(PURE_SYMBOLS)).*' | grep -vxFf <(nm $^ | sed -n 's/^[0-9a-f]* [A-Z] //p'); then \
	    echo "layers: physics or statistics call the functions above"; exit 1; fi
	@if grep -nE '\b(setlocale|getenv)\(' $(filter-out tests/%,$(SOURCES)); then exit 1; fi
	@if grep -nE '\b(time|clock_gettime|gettimeofday|localtime|gmtime)\(' \
	    $(filter-out tests/% lapwing.c,$(SOURCES)); then exit 1; fi
	@echo "layers: the rooms see only what they may"
layers: SHELL = /bin/bash

SEEDS ?= 200
bench-coverage: $(BUILD)/lapwing $(BUILD)/make_night
	LAPWING=$(BUILD)/lapwing MAKE_NIGHT=$(BUILD)/make_night sh tests/bench/coverage.sh $(SEEDS)

NIGHTS ?= 10000
$(BUILD)/bench/nights: $(call obj,tests/bench/nights.c tests/night_simulation.c tests/noise.c) $(call obj,$(LIB))
	@mkdir -p $(@D)
	@echo "  link $@"
	@$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LDLIBS)
bench-nights: $(BUILD)/bench/nights
	$(BUILD)/bench/nights $(NIGHTS)
EACH ?= 500
SEED ?= 1
bench-faults: $(BUILD)/tests/run $(BUILD)/make_night
	MAKE_NIGHT=$(BUILD)/make_night FAULTS_EACH=$(EACH) FAULTS_SEED=$(SEED) $(BUILD)/tests/run faults

TIMES ?= 7
$(BUILD)/bench/page: $(call obj,tests/bench/page.c $(wildcard tests/report_fixture_*.c) tests/test_report_fixture.c tests/scratch.c) $(call obj,$(LIB))
	@mkdir -p $(@D)
	@echo "  link $@"
	@$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LDLIBS)
bench-page: $(BUILD)/bench/page
	$(BUILD)/bench/page $(TIMES)

# ---- install -------------------------------------------------------------------------------------

bindir        = $(DESTDIR)$(PREFIX)/bin
mandir        = $(DESTDIR)$(PREFIX)/share/man/man1
completiondir = $(DESTDIR)$(PREFIX)/share/bash-completion/completions

install: $(BUILD)/lapwing
	install -d $(bindir) $(mandir) $(completiondir)
	install -m 755 $(BUILD)/lapwing $(bindir)/lapwing
	install -m 644 report/lapwing.1 $(mandir)/lapwing.1
	install -m 644 report/lapwing.bash $(completiondir)/lapwing

uninstall:
	rm -f $(bindir)/lapwing $(mandir)/lapwing.1 $(completiondir)/lapwing

clean:
	rm -rf build $(NIGHT)/logs $(NIGHT)/truth $(NIGHT)/report $(NIGHT)/season.sqlite*

.PHONY: all packages deps check-deps lint-deps browser-deps demo check browser lint format-check layers bench-coverage \
        bench-faults bench-nights bench-page install uninstall clean
.DELETE_ON_ERROR:
