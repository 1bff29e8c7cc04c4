#ifndef UF_FIELD_PAGE_PRIVATE_H
#define UF_FIELD_PAGE_PRIVATE_H

/* field_page_script.c, for field_page.c. */
extern const char uf_field_page_script_style[], uf_field_page_script_judge[],
    uf_field_page_script_keep[];

#endif
