# Makefile - build, demo, check. `make help` lists the targets.
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
LDLIBS   = -lsqlite3 -lyaml -ludunits2 -lcrypto -lcsv -lgsl -lgslcblas -lqhull_r -lpthread -lm

LIB     ?= $(wildcard schema/*.c ingest/*.c reduce/*.c reduce/physics/*.c reduce/statistics/*.c report/*.c)
TESTS   ?= $(wildcard tests/*.c tests/published/*.c tests/faults/*.c)
PHYSICS  = $(wildcard reduce/physics/*.c)
obj      = $(patsubst %.c,$(BUILD)/%.o,$(1))

ASAN     = BUILD=build/asan CFLAGS='-O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all' \
           LDFLAGS='-fsanitize=address,undefined'

all: $(BUILD)/lapwing

$(BUILD)/lapwing: $(call obj,lapwing.c) $(call obj,$(LIB))
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LDLIBS)

$(BUILD)/tests/run: $(call obj,$(TESTS)) $(call obj,$(LIB))
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lcunit $(LDLIBS)

# The demo night's generator shares no code with the program.
$(BUILD)/make_night: $(call obj,$(wildcard sample_runs/*.c))
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lm

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(WARN) $(CPPFLAGS) $(CFLAGS) -MMD -MP -c -o $@ $<

# SQL as an array of lines: one long literal would pass the length that C promises.
$(BUILD)/schema_sql.inc: schema/schema.sql
	@mkdir -p $(@D)
	awk '{gsub(/\\/,"\\\\"); gsub(/"/,"\\\""); printf "\"%s\\n\",\n", $$0}' $< > $@.tmp && mv $@.tmp $@
$(call obj,schema/store.c): $(BUILD)/schema_sql.inc

# The page's style sheet and script, as C arrays.
$(BUILD)/%.inc: report/%
	@mkdir -p $(@D)
	awk '{gsub(/\\/,"\\\\"); gsub(/"/,"\\\""); printf "\"%s\\n\",\n", $$0}' $< > $@.tmp && mv $@.tmp $@
$(call obj,report/page.c): $(BUILD)/page.css.inc $(BUILD)/page.js.inc

-include $(patsubst %.o,%.d,$(call obj,$(LIB) $(TESTS) lapwing.c $(wildcard sample_runs/*.c)))

.PHONY: all
.DELETE_ON_ERROR:
