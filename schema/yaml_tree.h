/* yaml_tree.h - a YAML document as a tree of nodes that know their line and column.
 *
 * The only door to libyaml. A node is a number; 0 is "no node", which every function takes and
 * answers with nothing, so that look-ups can be chained. Texts belong to the tree.                 */
#ifndef LAPWING_YAML_TREE_H
#define LAPWING_YAML_TREE_H

#include <stddef.h>

#include "schema/fault.h"

struct yaml_tree;

enum yaml_kind { YAML_NOTHING, YAML_TEXT, YAML_LIST, YAML_MAPPING };

/* Parses size bytes; path is for messages. BAD_INPUT: not YAML, more than one document, or nothing
 * at all; the fault's place is path:line:column. On OK the caller owns *tree. */
enum status yaml_tree_load(const char *path, const char *bytes, size_t size,
                           struct yaml_tree **tree, struct fault *fault);
void yaml_tree_free(struct yaml_tree *tree); /* NULL is fine */

int yaml_tree_root(struct yaml_tree *tree);
enum yaml_kind yaml_tree_kind(struct yaml_tree *tree, int node);

/* Text of a scalar, quotes taken off; "" for any other node. */
const char *yaml_tree_text(struct yaml_tree *tree, int node);

/* Place in the file, from 1; 0 for no node. */
size_t yaml_tree_line(struct yaml_tree *tree, int node);
size_t yaml_tree_column(struct yaml_tree *tree, int node);

/* Items of a list or pairs of a mapping; then the i-th of them, 0 when there are fewer. */
size_t yaml_tree_count(struct yaml_tree *tree, int node);
int yaml_tree_item(struct yaml_tree *tree, int node, size_t i);
int yaml_tree_key(struct yaml_tree *tree, int node, size_t i);
int yaml_tree_value(struct yaml_tree *tree, int node, size_t i);

/* Value of the first pair with this key; 0 when there is none. */
int yaml_tree_find(struct yaml_tree *tree, int node, const char *key);

#endif
