# Bridgedeck.  `make demo` and `make test` are all a new user needs; `make help` lists the rest.
# SPDX-License-Identifier: GPL-3.0-or-later

CC      ?= cc
PREFIX  ?= /usr/local
LIBDIR  ?= $(PREFIX)/lib
DESTDIR ?=
VARIANT ?= release
PROFILE ?= profiles/cruiser-12v-agm.ini

# Debian packages: what building takes, and what the tests take on top. The only such lists.
BUILD_PACKAGES = gcc libc6-dev libinih-dev libplot-dev libgsl-dev libjansson-dev libsmartcols-dev libcsv-dev
TEST_PACKAGES  = libcmocka-dev libnova-dev libexpat1-dev libpng-dev universal-ctags ngspice tidy pkg-config groff-base dpkg-dev

# Wanted by the tests of the reports in a browser, which are skipped where they cannot be had.
BROWSER_PACKAGES = chromium-headless-shell poppler-utils

WARN = -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes -Wvla -Werror
BASE = -std=c17 -D_GNU_SOURCE -Isrc $(WARN) -MMD -MP -fPIC -fvisibility=hidden -ffp-contract=off -pthread

FLAGS_release = -O2 -g -DNDEBUG
FLAGS_debug   = -O0 -g
FLAGS_clang   = -O1
FLAGS_asan    = -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
FLAGS_tsan    = -O1 -g -fsanitize=thread
FLAGS_fuzz    = -O1 -g -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all

LIBS      = -linih -lplot -lgsl -lgslcblas -ljansson -lsmartcols -lcsv -lm
TEST_LIBS = -lcmocka -lnova -lexpat -lpng

BUILD   = build/$(VARIANT)
SOURCES := $(wildcard src/*/*.c src/*.c)
LIBRARY := $(filter-out src/cli/%,$(SOURCES))
PROGRAM := $(filter src/cli/%,$(SOURCES))
TESTS   := $(wildcard tests/*/test_*.c) $(wildcard tests/support/*.c)
FUZZERS := $(patsubst tests/fuzz/%.c,%,$(wildcard tests/fuzz/fuzz_*.c))
OTHERS  := $(wildcard tests/fuzz/*.c tests/bench/*.c tests/check/*.c tests/browser/*.c)

object = $(patsubst %.c,$(BUILD)/%.o,$(1))
LINK   = $(CC) $(FLAGS_$(VARIANT)) $(CFLAGS) $(LDFLAGS) -pthread

# One short line a file; make V=1 shows the whole commands, make -s nothing.
SAY = $(if $(V),,$(if $(findstring s,$(firstword -$(MAKEFLAGS))),@,@echo '  $@';))

.PHONY: all lib demo plots test check-style measure docs bench install install-program install-library deb clean help force
all: $(BUILD)/bridgedeck

help:
	@echo 'make              build build/release/bridgedeck'
	@echo 'make demo         install what is missing, build, run the main job on a shipped profile'
	@echo 'make test         install what is missing, run every test; last line: N passed, N failed'
	@echo 'make check-style  layers, exported names, lengths, headings, generated pages'
	@echo 'make measure      the size and shape of the code in figures'
	@echo 'make docs         write the reference and manual pages in docs/ anew from the program'
	@echo 'make plots        draw plots/ anew from the shipped profiles'
	@echo 'make bench        timings; what they mean stands in docs/benchmarks.md'
	@echo 'make lib          libbridgedeck.a and libbridgedeck.so'
	@echo 'make install      into $$(DESTDIR)$$(PREFIX)'
	@echo 'make deb          Debian packages of the program and the library in build/'
	@echo 'make clean        remove build/'
	@echo 'Variables: CC CFLAGS LDFLAGS PREFIX DESTDIR VARIANT=release|debug|asan|tsan|clang PROFILE V=1'

# --- building ---

# What the objects and the library were made with: another compiler, flag or list of files rebuilds them.
keep = @mkdir -p $(@D); echo '$(1)' | cmp -s - $@ || echo '$(1)' > $@

$(BUILD)/flags: force
	$(call keep,$(CC) $(BASE) $(FLAGS_$(VARIANT)) $(CFLAGS))

$(BUILD)/files: force
	$(call keep,$(LDFLAGS) $(SOURCES) $(TESTS))

$(BUILD)/%.o: %.c $(BUILD)/flags
	@mkdir -p $(@D)
	$(SAY)$(CC) $(BASE) $(FLAGS_$(VARIANT)) $(CFLAGS) $(if $(filter tests/%,$<),-Itests) -c -o $@ $<

$(BUILD)/libbridgedeck.a: $(call object,$(LIBRARY)) $(BUILD)/files
	@rm -f $@
	$(SAY)ar rcs $@ $(filter %.o,$^)

$(BUILD)/libbridgedeck.so: $(call object,$(LIBRARY)) $(BUILD)/files
	$(SAY)$(LINK) -shared -Wl,-soname,libbridgedeck.so.1 -Wl,--no-undefined -o $@ $(filter %.o,$^) $(LIBS)

# The profile that `new` writes, as a text in the program.
$(BUILD)/starter_text.c: profiles/starter.ini
	@mkdir -p $(@D)
	@{ echo '#include "cli/starter.h"'; echo 'const char starter_text[] ='; \
	  sed 's/[\\"]/\\&/g; s/.*/"&\\n"/' $<; echo ';'; } > $@

$(BUILD)/starter_text.o: $(BUILD)/starter_text.c $(BUILD)/flags
	$(SAY)$(CC) $(BASE) $(FLAGS_$(VARIANT)) $(CFLAGS) -c -o $@ $<

$(BUILD)/bridgedeck: $(call object,$(PROGRAM)) $(BUILD)/starter_text.o $(BUILD)/libbridgedeck.a
	$(SAY)$(LINK) -o $@ $^ $(LIBS)

lib: $(BUILD)/libbridgedeck.a $(BUILD)/libbridgedeck.so

# --- running ---

demo:
	@tests/check/need $(BUILD_PACKAGES)
	@echo 'building'
	@$(MAKE) --no-print-directory -s -j2 all
	@tests/check/demo $(BUILD)/bridgedeck $(PROFILE)

plots: all
	@tests/check/plots $(BUILD)/bridgedeck

# --- checking ---

# Preloaded by tests to make calls fail; never sanitized, so that they can be loaded before anything.
FAULTS := $(patsubst tests/fault/%.c,$(BUILD)/%.so,$(wildcard tests/fault/*.c))

$(FAULTS): $(BUILD)/%.so: tests/fault/%.c $(BUILD)/flags
	$(SAY)$(CC) -std=c17 -D_GNU_SOURCE $(WARN) -O1 -fPIC -shared -o $@ $< -ldl

$(BUILD)/unit: $(call object,$(TESTS)) $(BUILD)/libbridgedeck.a $(FAULTS) $(BUILD)/files | $(BUILD)/bridgedeck
	$(SAY)$(LINK) -o $@ $(filter %.o %.a,$^) $(TEST_LIBS) $(LIBS)

# Reports in a browser; tests/check/browser says which.
$(BUILD)/browser: $(call object,$(wildcard tests/browser/*.c tests/support/*.c)) $(BUILD)/libbridgedeck.a | $(BUILD)/bridgedeck
	$(SAY)$(LINK) -o $@ $(filter %.o %.a,$^) $(TEST_LIBS) $(LIBS)

$(BUILD)/fuzz_%: $(BUILD)/tests/fuzz/fuzz_%.o $(BUILD)/libbridgedeck.a
	$(SAY)$(LINK) -fsanitize=fuzzer -o $@ $^ $(LIBS)

test:
	@tests/check/need $(BUILD_PACKAGES) $(TEST_PACKAGES)
	@tests/check/browser >/dev/null || tests/check/need $(BROWSER_PACKAGES) || echo 'goes on without a browser'
	@MAKE='$(MAKE)' FUZZERS='$(FUZZERS)' tests/check/all

check-style: all lib $(BUILD)/pages
	@BUILD=$(BUILD) tests/check/style

measure: all lib
	@BUILD=$(BUILD) tests/check/measure

# Pages that the program writes about itself.
$(BUILD)/pages: $(call object,$(wildcard tests/check/pages*.c)) $(filter-out %/main.o,$(call object,$(PROGRAM))) \
                $(BUILD)/starter_text.o $(BUILD)/libbridgedeck.a
	$(SAY)$(LINK) -o $@ $^ $(LIBS)

docs: $(BUILD)/pages
	$(BUILD)/pages keys > docs/profile.md
	$(BUILD)/pages commands > docs/commands.md
	$(BUILD)/pages man1 > docs/bridgedeck.1
	$(BUILD)/pages man5 > docs/bridgedeck-profile.5
	$(BUILD)/pages rules > docs/rules.md
	$(BUILD)/pages sources > docs/handbook/sources.md

$(BUILD)/bench: $(call object,$(wildcard tests/bench/*.c)) $(BUILD)/libbridgedeck.a
	$(SAY)$(LINK) -o $@ $^ $(LIBS)

bench: all $(BUILD)/bench
	$(BUILD)/bench $(BUILD)/bridgedeck

# --- installing ---

VERSION = $(shell sed -n 's/^.define BD_VERSION "\(.*\)"/\1/p' src/bridgedeck.h)
SHARE   = $(DESTDIR)$(PREFIX)/share

install: install-program install-library

install-program: all $(BUILD)/pages
	install -d $(DESTDIR)$(PREFIX)/bin $(SHARE)/bridgedeck/profiles/changes $(SHARE)/man/man1 $(SHARE)/man/man5
	install -m 755 $(BUILD)/bridgedeck $(DESTDIR)$(PREFIX)/bin/
	install -m 644 $(wildcard profiles/*.ini) $(SHARE)/bridgedeck/profiles/
	install -m 644 $(wildcard profiles/changes/*.ini) $(SHARE)/bridgedeck/profiles/changes/
	install -m 644 docs/bridgedeck.1 $(SHARE)/man/man1/
	install -m 644 docs/bridgedeck-profile.5 $(SHARE)/man/man5/
	install -d $(SHARE)/bash-completion/completions $(SHARE)/zsh/vendor-completions $(SHARE)/fish/vendor_completions.d
	$(BUILD)/pages bash > $(SHARE)/bash-completion/completions/bridgedeck
	$(BUILD)/pages zsh > $(SHARE)/zsh/vendor-completions/_bridgedeck
	$(BUILD)/pages fish > $(SHARE)/fish/vendor_completions.d/bridgedeck.fish

# The headers are those that the public one includes; they name each other from their own root.
install-library: lib
	install -d $(DESTDIR)$(LIBDIR)/pkgconfig
	install -m 644 $(BUILD)/libbridgedeck.a $(DESTDIR)$(LIBDIR)/
	install -m 755 $(BUILD)/libbridgedeck.so $(DESTDIR)$(LIBDIR)/libbridgedeck.so.1
	ln -sf libbridgedeck.so.1 $(DESTDIR)$(LIBDIR)/libbridgedeck.so
	for h in $$($(CC) -Isrc -MM src/bridgedeck.h | grep -o 'src/[a-z_/]*\.h' | sort -u); do \
	  install -D -m 644 $$h $(DESTDIR)$(PREFIX)/include/bridgedeck/$${h#src/} || exit 1; done
	printf '%s\n' 'prefix=$(PREFIX)' 'Name: bridgedeck' \
	  'Description: sizes and checks the electrical system of a cruising catamaran' 'Version: $(VERSION)' \
	  'Cflags: -I$${prefix}/include/bridgedeck' 'Libs: -L$(LIBDIR:$(PREFIX)%=$${prefix}%) -lbridgedeck' \
	  'Libs.private: $(LIBS)' > $(DESTDIR)$(LIBDIR)/pkgconfig/bridgedeck.pc

deb:
	@MAKE='$(MAKE)' VERSION='$(VERSION)' LIBRARIES='$(filter lib%,$(BUILD_PACKAGES))' .package/deb

clean:
	rm -rf build

-include $(patsubst %.o,%.d,$(call object,$(SOURCES) $(TESTS) $(OTHERS)))
