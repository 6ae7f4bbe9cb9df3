/* look.js - what the browser tests ask of a page. Given to the page by the tests, never part of it. */
window.look = {
  /* Ids that more than one element has. */
  doubles: function () {
    var seen = {}, twice = [];
    document.querySelectorAll('[id]').forEach(function (node) {
      if (seen[node.id]) twice.push(node.id);
      seen[node.id] = true;
    });
    return twice.join(' ');
  },
  /* Links and references to ids that nothing has. */
  lost: function () {
    var gone = [];
    document.querySelectorAll('a[href^="#"], [clip-path], [aria-describedby], [aria-labelledby]').forEach(function (node) {
      var id = (node.getAttribute('href') || '').slice(1) || node.getAttribute('aria-describedby') ||
        node.getAttribute('aria-labelledby') || (node.getAttribute('clip-path') || '').slice(5, -1);
      if (id && !document.getElementById(id)) gone.push(id);
    });
    return gone.join(' ');
  },
  /* What makes the page wider than the window; nothing when it is not. */
  sideways: function () {
    var width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= width && document.body.scrollWidth <= width) return '';
    var wide = [];
    document.querySelectorAll('body *').forEach(function (node) {
      var box = node.getBoundingClientRect(), scroller = node.closest('.scroll');
      if (box.width && box.right > width + 1 && !(scroller && scroller !== node && getComputedStyle(scroller).overflowX === 'auto'))
        wide.push(node.tagName + '.' + (node.getAttribute('class') || node.id) + ' to ' + Math.round(box.right));
    });
    return document.documentElement.scrollWidth + ' of ' + width + ': ' + wide.slice(0, 5).join(', ');
  },
  /* Texts that are wider or higher than the box that cuts them off. */
  cut: function () {
    var cut = [];
    document.querySelectorAll('main *').forEach(function (node) {
      var style = getComputedStyle(node);
      if (!node.matches('.unseen') && (style.overflowX === 'hidden' || style.overflowX === 'clip') && node.scrollWidth > node.clientWidth + 1)
        cut.push(node.tagName + ' ' + node.textContent.slice(0, 40));
    });
    return cut.join(', ');
  },
  /* Words that lie over each other: texts of one picture whose boxes share more than a sliver. */
  overlaps: function () {
    var found = [];
    document.querySelectorAll('svg').forEach(function (plot) {
      var boxes = [];
      plot.querySelectorAll('text').forEach(function (text) {
        var box = text.getBoundingClientRect();
        boxes.forEach(function (other) {
          var wide = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
          var high = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
          if (wide > 2 && high > 4) found.push(text.textContent + ' | ' + other.text);
        });
        boxes.push({ box: box, text: text.textContent });
      });
    });
    return found.slice(0, 4).join('; ') + (found.length > 4 ? '; ' + found.length + ' in all' : '');
  },
  /* Texts of a picture that stand outside it. */
  outside: function () {
    var found = [];
    document.querySelectorAll('svg').forEach(function (plot) {
      var frame = plot.getBoundingClientRect();
      plot.querySelectorAll('text').forEach(function (text) {
        var box = text.getBoundingClientRect();
        if (box.width && (box.left < frame.left - 1.5 || box.right > frame.right + 1.5 || box.top < frame.top - 3 ||
          box.bottom > frame.bottom + 3)) found.push(text.textContent);
      });
    });
    return found.slice(0, 6).join('; ');
  },
  words: function (selector) {
    return Array.prototype.map.call(document.querySelectorAll(selector), function (node) {
      return node.innerText.replace(/\s+/g, ' ').trim();
    }).join('\n');
  },
  unfold: function () {
    document.querySelectorAll('details').forEach(function (node) { node.open = true; });
  },
  /* Heading levels that jump, and how often there is an h1. */
  headings: function () {
    var last = 0, wrong = [];
    document.querySelectorAll('h1, h2, h3, h4').forEach(function (node) {
      var level = Number(node.tagName[1]);
      if (level > last + 1) wrong.push(node.textContent);
      last = level;
    });
    if (document.querySelectorAll('h1').length !== 1) wrong.push('h1: ' + document.querySelectorAll('h1').length);
    return wrong.join(', ');
  },
  landmarks: function () {
    return ['header', 'nav', 'main', 'footer'].filter(function (name) {
      return !document.querySelector(name);
    }).join(' ');
  },
  /* Plots without a name, and plots without numbers to unfold beside them. */
  plots: function () {
    var wrong = [];
    document.querySelectorAll('svg').forEach(function (plot) {
      if (!plot.getAttribute('aria-label') && plot.getAttribute('aria-hidden') !== 'true') wrong.push('no name: ' + plot.getAttribute('class'));
    });
    document.querySelectorAll('svg.plot').forEach(function (plot) {
      var panel = plot.closest('.panel');
      if (!panel || !panel.querySelector('details table, details li')) wrong.push('no numbers: ' + plot.getAttribute('aria-label'));
    });
    return wrong.join('; ');
  },
  /* Numbers of drawn shapes that are none. */
  strange: function () {
    var wrong = [];
    document.querySelectorAll('svg *').forEach(function (node) {
      Array.prototype.forEach.call(node.attributes, function (attribute) {
        if (/^(x|y|x1|x2|y1|y2|cx|cy|r|width|height|d)$/.test(attribute.name) && /nan|inf|null|,/i.test(attribute.value))
          wrong.push(attribute.name + '=' + attribute.value.slice(0, 40));
      });
    });
    return wrong.slice(0, 3).join('; ');
  },
  find: function (selector, label) {
    return Array.prototype.filter.call(document.querySelectorAll(selector), function (node) {
      return (node.getAttribute('aria-label') || node.textContent).indexOf(label) >= 0;
    })[0];
  },
  focus: function (label) {
    var plot = look.find('svg.plot', label);
    if (!plot) return '';
    plot.scrollIntoView({ block: 'center' });
    plot.focus({ preventScroll: true });
    return document.activeElement === plot ? plot.getAttribute('aria-label') : '';
  },
  /* Where the middle of a mark is, by what it says: "x y"; brought into the window first. */
  place: function (says) {
    var mark = Array.prototype.filter.call(document.querySelectorAll('[data-says]'), function (node) {
      return node.dataset.says.indexOf(says) === 0;
    })[0];
    if (!mark) return '';
    mark.scrollIntoView({ block: 'center', inline: 'center' });
    var box = mark.getBoundingClientRect();
    return (box.left + box.width / 2) + ' ' + (box.top + box.height / 2);
  },
  middle: function (selector) {
    var node = document.querySelector(selector);
    if (!node) return '';
    node.scrollIntoView({ block: 'center' });
    var box = node.getBoundingClientRect();
    return (box.left + box.width / 2) + ' ' + (box.top + box.height / 2);
  },
  centre: function (selector) {
    var box = document.querySelector(selector).getBoundingClientRect();
    return (box.left + box.width / 2) + ' ' + (box.top + box.height / 2);
  },
  tip: function () {
    var tip = document.getElementById('tip');
    return tip && !tip.hidden ? tip.textContent : '';
  },
  /* Where the tip lies outside the window; nothing when it is inside or hidden. */
  stray: function () {
    var tip = document.getElementById('tip'), box = tip.getBoundingClientRect();
    if (tip.hidden) return '';
    return box.left < 0 || box.top < 0 || box.right > innerWidth || box.bottom > innerHeight ?
      [box.left, box.top, box.right, box.bottom].map(Math.round).join(' ') : '';
  },
  said: function () { return document.getElementById('say').textContent; },
  bottom: function (selector) {
    return document.querySelector(selector).getBoundingClientRect().bottom + scrollY;
  },
  colour: function (selector) {
    return getComputedStyle(document.querySelector(selector)).backgroundColor;
  },
  /* Every part of a table that sorts, first words of its rows in order. */
  rows: function (selector) {
    return Array.prototype.map.call(document.querySelectorAll(selector), function (row) {
      return row.cells[0].childNodes[0].textContent.trim();
    }).join('|');
  },
  /* What axe-core finds, serious and worse; "all" for what is less, too. Shapes of a picture, which it
     does not judge, and all but the first rows of a table are left out: they are many and alike. */
  axe: function (which) {
    var page = { exclude: [['svg > *'], ['tbody > tr:nth-child(n+4)']] };
    return axe.run(page, { resultTypes: ['violations'] }).then(function (result) {
      return result.violations.filter(function (rule) {
        return which === 'all' || rule.impact === 'serious' || rule.impact === 'critical';
      }).map(function (rule) {
        return rule.impact + ' ' + rule.id + ' (' + rule.nodes.length + '): ' + rule.nodes.slice(0, 3).map(function (node) {
          return node.html.slice(0, 120) + ' -- ' + (node.any[0] ? node.any[0].message : '');
        }).join(' || ');
      }).join('\n');
    });
  }
};
