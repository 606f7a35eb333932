/* shop/xml.h - the tags of an XML text, one after the other. Comments, CDATA, instructions and the document type are
 * passed over, entities that a document declares are never expanded, and nothing is read from elsewhere. What is not
 * well-formed is told with its place; duplicate attributes and the bytes of names are not looked into. */
#ifndef SHOP_XML_H
#define SHOP_XML_H

#include "shop/alloc.h"

#define SHOP_XML_DEPTH_MOST 200u /* elements inside each other */

typedef struct shop_span {
    size_t from, to; /* bytes, the last one not included */
} shop_span;

typedef enum shop_xml_event {
    SHOP_XML_OPEN,  /* <a ...> or <a .../> */
    SHOP_XML_CLOSE, /* </a>; also behind <a/> */
    SHOP_XML_END,
    SHOP_XML_WRONG /* why and where say what and at which byte */
} shop_xml_event;

typedef struct shop_xml {
    const char *bytes;
    size_t length, at;
    shop_span name;       /* of the element that opens or closes, its prefix included */
    shop_span attributes; /* behind the name of one that opens */
    shop_span open[SHOP_XML_DEPTH_MOST];
    size_t depth; /* elements open now */
    bool closes;  /* <a/> was told as opening, not yet as closing */
    const char *why;
    size_t where;
} shop_xml;

/* Bytes are borrowed; a byte order mark is passed over. */
void shop_xml_init(shop_xml *xml, const char *bytes, size_t length);
shop_xml_event shop_xml_next(shop_xml *xml);
/* The value of an attribute of the element that opened last, as it stands between its quotes. */
bool shop_xml_attribute(const shop_xml *xml, const char *name, shop_span *value);
/* Adds a value with its references undone and its line breaks and tabs as blanks. False with why and where. */
bool shop_xml_text(shop_xml *xml, shop_span value, shop_buffer *out);
bool shop_xml_says(const shop_xml *xml, shop_span span, const char *text);

#endif
