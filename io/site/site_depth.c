#include "site_private.h"

/* libyaml keeps account of every open bracket at every token, so that brackets in brackets cost the
   square of their number: 200 kB took a minute. No key of the table stands deeper than seven. */
enum { DEEPEST = 16 };

int uf_site_depth_excess(const char *text, size_t size)
{
    yaml_parser_t parser;
    int depth = 0, line = 0;
    bool more = yaml_parser_initialize(&parser) != 0;
    if (!more) {
        return 0; /* no memory: the reading itself says so */
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, size);
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    while (more && line == 0) {
        yaml_event_t event;
        if (yaml_parser_parse(&parser, &event) == 0) {
            break; /* no YAML: the reading itself says so */
        }
        const yaml_event_type_t type = event.type;
        depth += (type == YAML_SEQUENCE_START_EVENT || type == YAML_MAPPING_START_EVENT) -
                 (type == YAML_SEQUENCE_END_EVENT || type == YAML_MAPPING_END_EVENT);
        line = depth > DEEPEST ? (int)event.start_mark.line + 1 : 0;
        more = type != YAML_STREAM_END_EVENT;
        yaml_event_delete(&event);
    }
    yaml_parser_delete(&parser);
    return line;
}
