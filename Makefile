# Bridgedeck.  `make demo` and `make test` are all a new user needs; `make help` lists the rest.
# SPDX-License-Identifier: GPL-3.0-or-later

CC      ?= cc
PREFIX  ?= /usr/local
DESTDIR ?=
VARIANT ?= release

WARN = -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes -Wvla -Werror
BASE = -std=c17 -D_GNU_SOURCE -Isrc $(WARN) -MMD -MP -fvisibility=hidden -ffp-contract=off

FLAGS_release = -O2 -g -DNDEBUG
FLAGS_debug   = -O0 -g
FLAGS_asan    = -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer

LIBS      = -linih -lplot -lgsl -lgslcblas -ljansson -lsmartcols -lcsv -lm
TEST_LIBS = -lcmocka -lnova

BUILD   = build/$(VARIANT)
SOURCES := $(wildcard src/*/*.c src/*.c)
LIBRARY := $(filter-out src/cli/%,$(SOURCES))
PROGRAM := $(filter src/cli/%,$(SOURCES))
TESTS   := $(wildcard tests/*/test_*.c) $(wildcard tests/support/*.c)

object = $(patsubst %.c,$(BUILD)/%.o,$(1))

.PHONY: all clean
all: $(BUILD)/bridgedeck

$(BUILD)/%.o: %.c Makefile
	@mkdir -p $(@D)
	$(CC) $(BASE) $(FLAGS_$(VARIANT)) $(CFLAGS) $(if $(filter tests/%,$<),-Itests) -c -o $@ $<

$(BUILD)/libbridgedeck.a: $(call object,$(LIBRARY))
	@rm -f $@
	ar rcs $@ $^

$(BUILD)/bridgedeck: $(call object,$(PROGRAM)) $(BUILD)/libbridgedeck.a
	$(CC) $(FLAGS_$(VARIANT)) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/unit: $(call object,$(TESTS)) $(BUILD)/libbridgedeck.a
	$(CC) $(FLAGS_$(VARIANT)) $(LDFLAGS) -o $@ $^ $(TEST_LIBS) $(LIBS)

clean:
	rm -rf build

-include $(patsubst %.o,%.d,$(call object,$(SOURCES) $(TESTS)))
