#include "wire/reader.h"

#include <stdint.h>
#include <stdio.h>

#include "base/text.h"

bool
reader_text(struct reader *reader, const char *pointer, const json_t *value, size_t characters_max, char *buffer,
            size_t capacity)
{
    if (!json_is_string(value)) {
        reader_wrong_type(reader, pointer, value, "a text");
        return false;
    }
    const char *text = json_string_value(value);
    const size_t length = json_string_length(value);
    size_t characters = 0;
    for (size_t i = 0, step = 0; i < length; i += step) {
        uint32_t point = 0;
        step = text_character(text + i, length - i, &point);
        if (step == 0 || text_is_control(point)) {
            reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, NULL,
                         "Control characters, line breaks among them, are not taken here.");
            return false;
        }
        characters++;
    }
    char detail[FAULT_TEXT_SIZE];
    if (characters_max > 0 && characters > characters_max) {
        snprintf(detail, sizeof detail, "At most %zu characters are taken here; these are %zu.", characters_max,
                 characters);
        reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, NULL, detail);
        return false;
    }
    if (length >= capacity) {
        snprintf(detail, sizeof detail, "At most %zu bytes of UTF-8 are taken here; these are %zu.", capacity - 1,
                 length);
        reader_fault(reader, FAULT_OUT_OF_RANGE, pointer, NULL, detail);
        return false;
    }
    return text_copy(buffer, capacity, text);
}
