# bandwright: build, try, test, install. `make demo` and `make check` install what they miss and say so.
#
#   make            build/bandwright, build/libbandwright.a and .so
#   make demo       build and open the example lid (or print its plan where there is no terminal)
#   make check      everything that is tested; make bench, make soak: what takes a measure or a while
#   make install    PREFIX=/usr/local DESTDIR=
CC ?= cc
CFLAGS ?= -O2 -g
LDFLAGS ?=
PREFIX ?= /usr/local
DESTDIR ?=
BUILD ?= build

WARN = -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes -Werror
STD = -std=c11 -D_GNU_SOURCE -D_XOPEN_SOURCE_EXTENDED
COMPILE = $(CC) $(STD) $(WARN) $(CPPFLAGS) $(CFLAGS) -fPIC -MMD -MP -Iinclude -Isrc
LIBS = -lyaml -lncursesw -ltinfo -lcairo -lm
VERSION = $(shell sed -n 's/^.define BW_VERSION "\(.*\)"/\1/p' include/bandwright/base.h)

MATHS = $(sort $(wildcard src/maths/*.c))
ROOMS = $(sort $(wildcard $(foreach room,shop desk show paper bench term verbs,src/$(room)/*.c)))
MATHS_O = $(MATHS:%.c=$(BUILD)/%.o)
ROOMS_O = $(ROOMS:%.c=$(BUILD)/%.o)

all: $(BUILD)/bandwright $(BUILD)/libbandwright.a $(BUILD)/libbandwright.so

$(BUILD)/src/%.o: src/%.c
	@mkdir -p $(@D)
	$(COMPILE) -c $< -o $@

$(BUILD)/libbandwright.a: $(MATHS_O)
	rm -f $@ && ar rcs $@ $^

# What the public headers do not promise stays inside.
$(BUILD)/exports.map: Makefile
	@mkdir -p $(@D)
	printf '{ global: bw_*; local: *; };\n' > $@

$(BUILD)/libbandwright.so: $(MATHS_O) $(BUILD)/exports.map
	$(CC) $(CFLAGS) $(LDFLAGS) -shared -Wl,-soname,libbandwright.so.1 -Wl,--version-script,$(BUILD)/exports.map \
	    -o $@ $(MATHS_O) -lm

$(BUILD)/bandwright: $(BUILD)/src/main.o $(ROOMS_O) $(BUILD)/libbandwright.a
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

-include tests/tests.mk
-include $(MATHS_O:.o=.d) $(ROOMS_O:.o=.d) $(BUILD)/src/main.d

# ---- trying it ----

# On a copy, so that playing with it leaves the example as it is.
demo:
	@CC=$(CC) .ci/need build
	@$(MAKE) --no-print-directory all
	@mkdir -p build/demo && cp -n projects/cedar-lid.yaml build/demo/
	@if [ -t 0 ] && [ -t 1 ]; then \
	    echo "Opening build/demo/cedar-lid.yaml, a copy of the example lid."; \
	    $(BUILD)/bandwright --inventory share/inventory.yaml build/demo/cedar-lid.yaml; \
	else \
	    echo "No terminal here: this is the plan of the example lid."; \
	    $(BUILD)/bandwright plan projects/cedar-lid.yaml; \
	fi

# ---- installing ----

SHARE = $(DESTDIR)$(PREFIX)/share
LIB = $(DESTDIR)$(PREFIX)/lib

install: all
	install -d $(DESTDIR)$(PREFIX)/bin $(LIB)/pkgconfig $(DESTDIR)$(PREFIX)/include/bandwright
	install -d $(SHARE)/bandwright/projects $(SHARE)/bash-completion/completions
	install -d $(SHARE)/man/man1 $(SHARE)/man/man3 $(SHARE)/man/man5
	install -m 755 $(BUILD)/bandwright $(DESTDIR)$(PREFIX)/bin/bandwright
	install -m 644 $(BUILD)/libbandwright.a $(LIB)/libbandwright.a
	install -m 755 $(BUILD)/libbandwright.so $(LIB)/libbandwright.so.$(VERSION)
	ln -sf libbandwright.so.$(VERSION) $(LIB)/libbandwright.so.1
	ln -sf libbandwright.so.1 $(LIB)/libbandwright.so
	install -m 644 include/bandwright/*.h $(DESTDIR)$(PREFIX)/include/bandwright/
	sed -e 's,@PREFIX@,$(PREFIX),' -e 's,@VERSION@,$(VERSION),' share/libbandwright.pc.in > $(LIB)/pkgconfig/libbandwright.pc
	chmod 644 $(LIB)/pkgconfig/libbandwright.pc
	install -m 644 projects/*.yaml $(SHARE)/bandwright/projects/
	install -m 644 share/*.yaml share/keys $(SHARE)/bandwright/
	install -m 644 share/completions/bandwright $(SHARE)/bash-completion/completions/bandwright
	install -m 644 man/*.1 $(SHARE)/man/man1/
	install -m 644 man/*.3 $(SHARE)/man/man3/
	install -m 644 man/*.5 $(SHARE)/man/man5/

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/bandwright $(LIB)/libbandwright.a $(LIB)/libbandwright.so*
	rm -f $(LIB)/pkgconfig/libbandwright.pc $(SHARE)/bash-completion/completions/bandwright
	rm -f $(patsubst man/%.1,$(SHARE)/man/man1/%.1,$(wildcard man/*.1))
	rm -f $(patsubst man/%.3,$(SHARE)/man/man3/%.3,$(wildcard man/*.3))
	rm -f $(patsubst man/%.5,$(SHARE)/man/man5/%.5,$(wildcard man/*.5))
	rm -rf $(SHARE)/bandwright $(DESTDIR)$(PREFIX)/include/bandwright

format:
	clang-format -i $(wildcard include/bandwright/*.h src/*.c src/*/*.c src/*/*.h tests/*/*.c tests/*/*.h)

clean:
	rm -rf build

.PHONY: all demo install uninstall format clean
