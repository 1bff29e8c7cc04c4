#include "check.h"

#define DECLARE(topic) extern const struct uf_check_topic uf_check_##topic;
UF_CHECK_LIST(DECLARE)
#undef DECLARE

#define ENTRY(topic) &uf_check_##topic,
const struct uf_check_topic *const uf_check_topics[UF_CHECK_TOPICS] = {UF_CHECK_LIST(ENTRY)};
#undef ENTRY
