# bandwright - build, try, test. `make demo` and `make check` install what they miss.
CC ?= cc
CFLAGS ?= -O2 -g
WARN = -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes -Werror
STD = -std=c11 -D_GNU_SOURCE -D_XOPEN_SOURCE_EXTENDED
BUILD ?= build

MATHS = $(sort $(wildcard src/maths/*.c))
ROOMS = $(sort $(wildcard src/shop/*.c src/desk/*.c src/show/*.c src/bench/*.c src/term/*.c src/verbs/*.c))
MATHS_O = $(MATHS:%.c=$(BUILD)/%.o)
ROOMS_O = $(ROOMS:%.c=$(BUILD)/%.o)

all: $(BUILD)/bandwright $(BUILD)/libbandwright.a $(BUILD)/libbandwright.so

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(STD) $(WARN) $(CFLAGS) -fPIC -MMD -MP -Iinclude -Isrc -c $< -o $@

$(BUILD)/libbandwright.a: $(MATHS_O)
	rm -f $@ && ar rcs $@ $^

$(BUILD)/libbandwright.so: $(MATHS_O)
	$(CC) $(CFLAGS) -shared -Wl,-soname,libbandwright.so.1 -o $@ $^ -lm

$(BUILD)/bandwright: $(BUILD)/src/main.o $(ROOMS_O) $(BUILD)/libbandwright.a
	$(CC) $(CFLAGS) -o $@ $^ -lyaml -lncursesw -ltinfo -lm

-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)
.PHONY: all
